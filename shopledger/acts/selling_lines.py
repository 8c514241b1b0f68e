"""From a sale's form to its lines: what each is, what it asks, how it is reckoned, and what refuses it."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from shopledger.acts.deposits import refuse_deposit_held
from shopledger.acts.describing import instrument_of
from shopledger.acts.lots import Lots
from shopledger.acts.owning import Share, owners_now, shop_person
from shopledger.acts.people import person_of
from shopledger.acts.placing_ends import placed_with_buyer
from shopledger.acts.selling_forms import Sell, SellLine
from shopledger.acts.selling_goods import ready_goods, sales_tax_of
from shopledger.acts.selling_prices import priced
from shopledger.acts.selling_ready import Ready, what_words
from shopledger.acts.taking_in import need_open_stay
from shopledger.acts.terms import agreed_for, is_signed, live_line
from shopledger.acts.trial_kept import out_with_buyer
from shopledger.model import Instrument, Person, Stay, Terms
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import inputs
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.job_costs import work_in_cost
from shopledger.queries.reckoned import reckoning_terms
from shopledger.queries.standing import hold_in_force, parties_of
from shopledger.rules import tax as taxes
from shopledger.rules.reckoning import reckon
from shopledger.rules.recording import against_recording
from shopledger.rules.split import Split
from shopledger.rules.terms import (
    Bearer,
    Case,
    Cost,
    CostOf,
    OwnerShare,
    Referral,
    ReferralOf,
    Scheme,
    Side,
    Tax,
)
from shopledger.store.unit import Reading

SHOPS_OWN = ("accessory", "work", "freight")


def ready_lines(reading: Reading, form: Sell, buyer: Person) -> tuple[Ready, ...]:
    """Give every line of a sale, reckoned.

    Raises: Typed, Refused: a line can't be sold so; the field names it.
    """
    _check_form(form)
    for name in ("referrer_id", "dealer_id"):
        if getattr(form, name) is not None:
            person_of(reading, getattr(form, name), name)
    prices = priced(reading, form)
    seen: set[int] = set()
    lots: Lots = {}
    lines = []
    for n, (line, (asking, price)) in enumerate(zip(form.lines, prices, strict=True)):
        if line.instrument_id is not None:
            if line.instrument_id in seen:
                raise Typed(N_("It stands on the invoice already."), field=f"lines[{n}].instrument_id")
            seen.add(line.instrument_id)
        try:
            lines.append(_ready(reading, form, buyer, n, line, asking, price, lots))
        except (Typed, Refused) as error:
            error.field = _input_of(error.field, form, n)
            raise
    return tuple(lines)


_WHOLE_SALE = frozenset({"tax_scheme", "tax_rate", "exempt_reason", "referrer_id", "told_buyer_on", "dealer_id",
                         "sell_unsigned", "make_up", "consents"})  # fmt: skip
_WRITTEN = {
    "terms.floor": "make_up",
    "referral.disclosed_to": "told_buyer_on",
    "referral.rate": "referral_rate",
    "referral.fixed": "referral_fixed",
    "referral.of": "referral_of",
    "tax.exempt_reason": "exempt_reason",
    "tax.rate": "tax_rate",
    "tax.exempt": "exempt",
}
"""Fields of the reckoning's written form, and the inputs that they come from."""


def _input_of(field: str | None, form: Sell, n: int) -> str:
    """Give the path of the input that a refusal of a line is about."""
    if field in _WHOLE_SALE:
        return field
    if field in _WRITTEN:
        return _WRITTEN[field]
    if field is not None and (cost := re.fullmatch(r"costs\[(\d+)\](.*)", field)):
        of_line = [place for place, row in enumerate(form.costs) if row.line == n + 1]
        return f"costs[{of_line[int(cost[1])]}]{cost[2]}"
    if field is None or field not in inputs(SellLine):
        return f"lines[{n}].{'instrument_id' if field is None else 'price'}"
    return f"lines[{n}].{field}"


def _check_form(form: Sell) -> None:
    for name in ("costs", "consents"):
        for n, row in enumerate(getattr(form, name)):
            if not 1 <= row.line <= len(form.lines):
                raise Typed(
                    N_("There is no line {line}: the invoice has {lines}."),
                    field=f"{name}[{n}].line",
                    line=row.line,
                    lines=len(form.lines),
                )
    consigned = [line.kind == "consigned" for line in form.lines]
    for n, row in enumerate(form.costs):
        if not consigned[row.line - 1]:
            raise Typed(
                N_("Only a consigned line has costs that are shared out: name its line, or leave it out."),
                field=f"costs[{n}].line",
            )
    for name in ("tax_rate", "referral_rate", "dealer_rate"):
        rate = getattr(form, name)
        if rate is not None and not 0 <= rate <= 1:
            raise Typed(N_("{rate} is out of bounds. A rate is from 0% to 100%."), field=name, rate=rate)
    if form.referrer_id is None and (form.referral_rate is not None or form.referral_fixed is not None):
        raise Typed(N_("Say who referred the buyer, or leave the fee out."), field="referrer_id")
    if form.referrer_id is not None and form.referral_rate is None and form.referral_fixed is None:
        raise Typed(N_("The referral fee is missing: a rate or an amount."), field="referral_rate")
    if form.referral_fixed is not None and sum(consigned) != 1:
        raise Typed(
            N_("A fixed referral fee goes with one consigned line; give a rate, or sell apart."),
            field="referral_fixed",
        )
    if form.referrer_id is not None and not any(consigned):
        raise Typed(N_("A referral fee goes with a consigned line."), field="referrer_id")
    if (form.dealer_id is None) != (form.dealer_rate is None):
        raise Typed(
            N_("A second dealer and their share go together: give both or neither."), field="dealer_id"
        )
    if form.dealer_id is not None and not any(consigned):
        raise Typed(
            N_("A second dealer shares a commission: that goes with a consigned line."), field="dealer_id"
        )


def _ready(
    reading: Reading,
    form: Sell,
    buyer: Person,
    n: int,
    line: SellLine,
    asking: Money,
    price: Money,
    lots: Lots,
) -> Ready:
    scheme = Scheme(form.tax_scheme)
    if line.kind in SHOPS_OWN:
        return ready_goods(reading, form, n, line, asking, price, lots)
    if line.goods_id is not None:
        raise Typed(N_("Goods are sold on a line of their own: an accessory."), field="goods_id")
    if line.instrument_id is None:
        raise Typed(N_("Which instrument is it? Choose it."), field="instrument_id")
    if line.quantity != 1:
        raise Typed(N_("An instrument is sold by itself: its quantity is 1."), field="quantity")
    instrument = instrument_of(reading, line.instrument_id)
    stay = need_open_stay(reading, instrument.id)
    if live_line(reading, stay.id) is not None:
        raise Refused(N_("{instrument} is already sold."), instrument=instrument.number)
    hold = hold_in_force(reading, stay.id)
    if hold is not None and hold.person_id != buyer.id and hold.until >= form.on:
        raise Refused(
            N_("{instrument} is on hold for {player} until {day}. End the hold first, or sell to {player}."),
            instrument=instrument.number,
            player=hold.name,
            day=hold.until,
        )
    refuse_deposit_held(reading, stay.id, buyer.id)
    trial = out_with_buyer(reading, stay, instrument.number, buyer.id)
    there = placed_with_buyer(reading, form, stay, instrument.number, buyer.id)
    shop = shop_person(reading)
    if line.kind == "own":
        if any(share.person_id != shop for share in owners_now(reading, instrument.id)):
            raise Refused(
                N_("{instrument} is not the shop's own. Sell it as consigned."), instrument=instrument.number
            )
        ready = _ready_own(reading, form, n, line, asking, price, scheme, instrument, stay)
    else:
        ready = _ready_consigned(reading, form, buyer, n, line, asking, price, instrument, stay)
    return ready if trial is None and there is None else replace(ready, trial=trial, placed=there)


def _ready_own(
    reading: Reading,
    form: Sell,
    n: int,
    line: SellLine,
    asking: Money,
    price: Money,
    scheme: Scheme,
    instrument: Instrument,
    stay: Stay,
) -> Ready:
    if scheme is Scheme.VAT_ON_COMMISSION:
        raise Refused(
            N_("The shop's own instrument earns no commission. Sell it on an invoice with its own tax."),
            field="tax_scheme",
        )
    tax = sales_tax_of(form, line, price, scheme)
    margin_vat = 0
    if scheme is Scheme.MARGIN:
        if form.tax_rate is None:
            raise Typed(N_("The margin scheme needs its rate."), field="tax_rate")
        # Work on it is part of what it cost, but no part of what it was bought for (HMRC VAT Notice 718; from memory).
        bought = reading.money((stay.cost or 0) - work_in_cost(reading, stay.id))
        margin_vat = taxes.margin_vat_on_own(bought, price, form.tax_rate).minor
    return Ready(
        n=n,
        form=line,
        what=line.what or what_words(instrument),
        asking=asking,
        price=price,
        buyer_pays=price + tax,
        sales_tax=tax,
        instrument=instrument,
        stay=stay,
        hold=hold_in_force(reading, stay.id),
        cost=stay.cost or 0,
        margin_vat=margin_vat,
    )


def _ready_consigned(
    reading: Reading,
    form: Sell,
    buyer: Person,
    n: int,
    line: SellLine,
    asking: Money,
    price: Money,
    instrument: Instrument,
    stay: Stay,
) -> Ready:
    agreement, terms = agreed_for(reading, stay)
    if terms.ends_on < form.on:
        raise Refused(
            N_("{agreement} ended on {day}. Renew it first."), agreement=agreement.number, day=terms.ends_on
        )
    unsigned = not is_signed(reading, terms.id)
    if unsigned and not form.sell_unsigned:
        raise Refused(
            N_("{agreement} is not signed yet. Record the signature, or say that it is sold all the same."),
            field="sell_unsigned",
            agreement=agreement.number,
        )
    consents = {consent.about for consent in form.consents if consent.line == n + 1}
    if buyer.relation != "none" and "self_dealing" not in consents:
        raise Refused(
            N_(
                "{buyer} is tied to the shop. Selling consigned stock so needs the owner's written consent, recorded."
            ),
            field="consents",
            buyer=buyer.name,
        )
    if form.dealer_id is not None and not terms.dealers_allowed:
        raise Refused(
            N_("{agreement} does not allow another dealer. Add an addendum first."),
            field="dealer_id",
            agreement=agreement.number,
        )
    parties = parties_of(reading, terms.id)
    case = _case(reading, form, n, line, asking, price, terms, [(p.number, p.share) for p in parties])
    split = reckon(case, reading.ledger.manners)
    against = against_recording(case, split, floor_consent="floor" in consents)
    if against:
        raise against[0]
    dealer_share = split.commission.times(form.dealer_rate).minor if form.dealer_rate is not None else 0
    return Ready(
        n=n,
        form=line,
        what=line.what or what_words(instrument),
        asking=asking,
        price=price,
        buyer_pays=split.buyer_pays,
        sales_tax=split.sales_tax,
        instrument=instrument,
        stay=stay,
        hold=hold_in_force(reading, stay.id),
        terms=terms,
        case=case,
        split=split,
        owners=tuple(Share(party.person_id, party.share) for party in parties),
        cost=stay.cost or 0,
        margin_vat=split.margin_vat.minor,
        dealer_share=dealer_share,
        unsigned=unsigned,
        costs=_costs_apart(form, n, case, split),
    )


def _case(
    reading: Reading,
    form: Sell,
    n: int,
    line: SellLine,
    asking: Money,
    price: Money,
    terms: Terms,
    owners: list[tuple[str, Fraction]],
) -> Case:
    costs = tuple(
        Cost(
            what=row.what,
            amount=row.amount,
            rate=row.rate,
            of=CostOf(row.of) if row.rate is not None else CostOf.PRICE,
            borne_by=Bearer(row.borne_by),
            before_commission=row.before_commission,
        )
        for row in form.costs
        if row.line == n + 1
    )
    referral = None
    if form.referrer_id is not None:
        told = [
            side
            for side, on in ((Side.BUYER, form.told_buyer_on), (Side.OWNER, form.told_owner_on))
            if on is not None
        ]
        referral = Referral(
            rate=form.referral_rate,
            fixed=form.referral_fixed,
            of=ReferralOf(form.referral_of) if form.referral_rate is not None else ReferralOf.PRICE,
            borne_by=Bearer(form.referral_borne_by),
            disclosed_to=tuple(told),
        )
    scheme = Scheme(form.tax_scheme)
    sales_tax = scheme is Scheme.SALES_TAX
    tax = Tax(
        scheme=scheme,
        rate=form.tax_rate if scheme is not Scheme.NONE else None,
        taxable=Money.zero(price.currency) if sales_tax and not line.taxable else None,
        exempt=form.exempt if sales_tax else False,
        exempt_reason=form.exempt_reason.strip() or None if sales_tax and form.exempt else None,
    )
    return Case(
        currency=reading.currency,
        asking=asking,
        price=price,
        terms=reckoning_terms(terms, reading.currency),
        costs=costs,
        referral=referral,
        tax=tax,
        owners=tuple(OwnerShare(number, share) for number, share in owners),
        make_up=form.make_up,
    )


def _costs_apart(form: Sell, n: int, case: Case, split: Split) -> tuple[tuple[str, int, str, bool], ...]:
    """Give what each cost comes to, each rounded for itself as the reckoning does."""
    rows = [row for row in form.costs if row.line == n + 1]
    apart = []
    for row, cost in zip(rows, case.costs, strict=True):
        if cost.amount is not None:
            minor = cost.amount.minor
        else:
            base = split.buyer_pays if cost.of is CostOf.BUYER_PAYS else case.price
            minor = base.times(cost.rate or Fraction(0)).minor
        apart.append((row.what, minor, row.borne_by, row.spent))
    return tuple(apart)


def buyer_of(reading: Reading, form: Sell) -> Person:
    """Give the buyer.

    Raises: NotFound, in words.
    """
    return person_of(reading, form.buyer_id, "buyer_id")
