"""A case from its written form: which keys there are, what each defaults to, and how they become frozen facts."""

from __future__ import annotations

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_
from shopledger.rules.case_form import NumberWritten, one_of, wrong_kind
from shopledger.rules.reckon_form import ReckonForm
from shopledger.rules.terms import (
    NO_TAX,
    Bearer,
    Bracket,
    Case,
    CommissionBrackets,
    CommissionFixed,
    CommissionRate,
    CommissionRule,
    Cost,
    CostOf,
    DiscountBorneBy,
    NetToOwner,
    OwnerShare,
    PayOwner,
    Referral,
    ReferralOf,
    Scheme,
    Side,
    Tax,
    Terms,
)

CASE_KEYS = (
    "currency",
    "asking",
    "price",
    "terms",
    "costs",
    "referral",
    "tax",
    "owners",
    "paid",
    "make_up",
    "approval_over",
)
TERMS_KEYS = ("commission", "least", "most", "discount_borne_by", "floor", "pay_owner")
COMMISSION_KEYS = ("rate", "brackets", "fixed", "net_to_owner")
BRACKET_KEYS = ("up_to", "rate")
COST_KEYS = ("what", "amount", "rate", "of", "borne_by", "before_commission")
REFERRAL_KEYS = ("rate", "fixed", "of", "borne_by", "disclosed_to")
TAX_KEYS = ("scheme", "rate", "taxable", "exempt", "exempt_reason")
OWNER_KEYS = ("name", "share")


def case_of(written: object) -> Case:
    """Give the case that a JSON object describes; whether its facts fit together is checked when it is reckoned.

    Raises:  Typed with the path of the field, for anything that is not exactly the written form.
    """
    form = ReckonForm(written, "", CASE_KEYS)
    currency = form.currency("currency")
    asking = form.amount("asking", currency)
    price = form.needed_amount("price", currency)
    terms = form.needed_form("terms", TERMS_KEYS, '{"commission": {"rate": "20%"}}')
    tax = form.form("tax", TAX_KEYS)
    referral = form.form("referral", REFERRAL_KEYS)
    return Case(
        currency=currency,
        asking=asking,
        price=price,
        terms=_terms(terms, currency),
        costs=tuple(
            _cost(ReckonForm(each, path, COST_KEYS), currency) for path, each in form.items("costs") or ()
        ),
        referral=None if referral is None else _referral(referral, currency),
        tax=NO_TAX if tax is None else _tax(tax, currency),
        owners=_owners(form),
        paid=form.amount("paid", currency),
        make_up=form.flag("make_up") or False,
        approval_over=form.flag("approval_over"),
    )


def _terms(form: ReckonForm, currency: str) -> Terms:
    """Give the terms of the agreement."""
    return Terms(
        commission=_commission(form, currency),
        least=form.amount("least", currency),
        most=form.amount("most", currency),
        discount_borne_by=form.choice("discount_borne_by", DiscountBorneBy, DiscountBorneBy.AS_IT_FALLS),
        floor=form.amount("floor", currency),
        pay_owner=form.choice("pay_owner", PayOwner, PayOwner.WHEN_PAID_IN_FULL),
    )


def _commission(terms: ReckonForm, currency: str) -> CommissionRule:
    """Give the one rule of the commission."""
    form = terms.needed_form("commission", COMMISSION_KEYS, '{"rate": "20%"}')
    given = tuple(key for key in COMMISSION_KEYS if form.has(key))
    if not given:
        raise Typed(
            N_("There is no rule for the commission. Write one of {rules}."),
            field=form.path,
            rules=COMMISSION_KEYS,
        )
    if len(given) > 1:
        raise Typed(
            N_("Here are {count} rules at once: {given}. Keep one of them."),
            field=form.path,
            count=len(given),
            given=given,
        )
    if (rate := form.rate("rate")) is not None:
        return CommissionRate(rate)
    if (fixed := form.amount("fixed", currency)) is not None:
        return CommissionFixed(fixed)
    if (net := form.amount("net_to_owner", currency)) is not None:
        return NetToOwner(net)
    brackets = form.items("brackets") or ()
    return CommissionBrackets(
        tuple(_bracket(ReckonForm(each, path, BRACKET_KEYS), currency) for path, each in brackets)
    )


def _bracket(form: ReckonForm, currency: str) -> Bracket:
    """Give one bracket."""
    return Bracket(form.needed_rate("rate", '"20%"'), form.amount("up_to", currency))


def _cost(form: ReckonForm, currency: str) -> Cost:
    """Give one cost."""
    return Cost(
        what=form.text("what") or "",
        amount=form.amount("amount", currency),
        rate=form.rate("rate"),
        of=form.choice("of", CostOf, CostOf.PRICE),
        borne_by=form.choice("borne_by", Bearer, Bearer.OWNER),
        before_commission=form.flag("before_commission") or False,
    )


def _referral(form: ReckonForm, currency: str) -> Referral:
    """Give the referral fee."""
    return Referral(
        rate=form.rate("rate"),
        fixed=form.amount("fixed", currency),
        of=form.choice("of", ReferralOf, ReferralOf.PRICE),
        borne_by=form.choice("borne_by", Bearer, Bearer.SHOP),
        disclosed_to=tuple(_side(each, path) for path, each in form.items("disclosed_to") or ()),
    )


def _side(written: object, path: str) -> Side:
    """Give one of the sides that were told of a fee."""
    if not isinstance(written, str) or isinstance(written, NumberWritten):
        raise wrong_kind(written, path, N_("buyer or owner, in quotes"))
    return one_of(written, Side, path)


def _tax(form: ReckonForm, currency: str) -> Tax:
    """Give the tax scheme."""
    return Tax(
        scheme=form.choice("scheme", Scheme, Scheme.NONE),
        rate=form.rate("rate"),
        taxable=form.amount("taxable", currency),
        exempt=form.flag("exempt") or False,
        exempt_reason=form.text("exempt_reason"),
    )


def _owners(case: ReckonForm) -> tuple[OwnerShare, ...] | None:
    """Give the owners with their shares, None where there is a single one."""
    members = case.items("owners")
    if members is None:
        return None
    owners: list[OwnerShare] = []
    for path, each in members:
        form = ReckonForm(each, path, OWNER_KEYS)
        name = form.text("name")
        if name is None or not name.strip():
            raise Typed(N_("The owner has no name. Write it in quotes."), field=form.at("name"))
        owners.append(OwnerShare(name, form.needed_rate("share", '"1/3"')))
    return tuple(owners)
