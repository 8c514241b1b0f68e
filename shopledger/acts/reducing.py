"""A price that is lowered after the sale: the line is reckoned afresh, and the difference posted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from sqlalchemy import select

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.owning import shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, sale_of
from shopledger.acts.returning import fee_paid_already, refuse_all_back, refuse_job_bill, standing_lines
from shopledger.acts.selling_preview import reckoned_lines
from shopledger.acts.settling import owners_of_line
from shopledger.acts.unsettling import cover
from shopledger.model import Consent, LineEntry, LineReferral, SaleLine
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_, _
from shopledger.queries.due import owner_lines
from shopledger.queries.job_costs import work_in_cost
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.rules.journal import mirrored
from shopledger.rules.posting import Fee, LineFigures, OwnerNet, line_amounts
from shopledger.rules.reckon_written import case_from, case_text
from shopledger.rules.reckoning import reckon
from shopledger.rules.recording import against_recording
from shopledger.rules.split import FIGURES, Split
from shopledger.rules.tax import margin_vat_on_own, sales_tax
from shopledger.rules.terms import Case, Scheme
from shopledger.store.unit import Reading, Writing

BELOW_FLOOR = N_("Below the lowest net agreed")
"""What the form folds away, since it is seldom asked for."""


@dataclass(frozen=True, kw_only=True)
class ReducePrice(Form):
    """A price is lowered after the sale."""

    sale_id: int
    line: int = ask(Field(N_("Line"), Kind.COUNT), default=1)
    price: Money = ask(Field(N_("New price"), Kind.MONEY, required=True))
    why: str = ask(Field(N_("Why"), required=True))
    make_up: bool = ask(
        Field(N_("The shop makes up a net below the lowest agreed"), Kind.YES_NO, under=BELOW_FLOOR)
    )
    consent_by: str = ask(Field(N_("Owner's consent given by"), personal=True, under=BELOW_FLOOR), default="")
    consent_how: str = ask(
        Field(N_("… how"), help=N_("By letter, by telephone, at the counter."), under=BELOW_FLOOR), default=""
    )
    consent_on: date | None = ask(Field(N_("… on"), Kind.DAY, under=BELOW_FLOOR))


def figures_standing(reading: Reading, line: SaleLine, buyer_id: int, shop_id: int) -> LineFigures:
    """Give the figures of a line as they stand in its records."""
    fees = reading.session.scalars(
        select(LineReferral).where(LineReferral.sale_line_id == line.id).order_by(LineReferral.id)
    )
    return LineFigures(
        kind=line.kind,
        buyer_id=buyer_id,
        price=line.price,
        buyer_pays=line.buyer_pays,
        sales_tax=line.sales_tax,
        commission=line.commission,
        owner_costs=line.owner_costs,
        shop_costs=line.shop_costs,
        vat_on_commission=line.vat_on_commission,
        margin_vat=line.margin_vat,
        cost=line.cost,
        owners=tuple(
            OwnerNet(owner.person_id, owner.net, owner.person_id == shop_id)
            for owner in owners_of_line(reading, line.id)
        ),
        fees=tuple(
            Fee(fee.person_id, fee.minor, fee.minor if fee.as_dealer else line.referral_shop) for fee in fees
        ),
    )


def _line_to_reduce(reading: Reading, form: ReducePrice) -> SaleLine:
    """Give the line whose price is lowered.

    Raises: NotFound: there is no such sale. Refused: it bills a job. Typed: the line or the price can't be so.
    """
    sale = sale_of(reading, form.sale_id)
    refuse_job_bill(reading, sale)
    line = next((each for each in standing_lines(reading, sale.id) if each.n == form.line), None)
    if line is None:
        raise Typed(N_("Line {line} is not on the invoice, or was returned."), field="line", line=form.line)
    above_zero(form.price, reading.currency, "price")
    if form.price.minor >= line.price:
        raise Typed(
            N_("The new price has to be below {price}."), field="price", price=reading.money(line.price)
        )
    return line


def _reckoned(reading: Reading, line: SaleLine, form: ReducePrice) -> tuple[Case, Split]:
    """Give a consigned line at the lower price, reckoned afresh.

    The consent of the sale was to another price, so that a net below the lowest agreed needs one of its own.

    Raises: Typed, Refused: it can't be reckoned so, or neither the owner consents nor the shop makes it up.
    """
    case = case_from(line.reckoned_from)
    case = replace(case, price=form.price, make_up=case.make_up or form.make_up)
    given = [bool(part) for part in (form.consent_by.strip(), form.consent_how.strip(), form.consent_on)]
    if any(given) and not all(given):
        raise Typed(N_("The owner's consent needs who gave it, how and when."), field="consent_by")
    try:
        split = reckon(case, reading.ledger.manners)
    except (Typed, Refused) as error:
        error.field = "price"
        raise
    for against in against_recording(case, split, floor_consent=all(given)):
        against.field = "make_up" if against.field == "terms.floor" else "price"
        raise against
    return case, split


def run_reduce_price(writing: Writing, form: ReducePrice) -> Outcome:
    """Reckon a line afresh at a lower price and post the difference as an entry that names the first."""
    sale = sale_of(writing, form.sale_id)
    line = _line_to_reduce(writing, form)
    shop = shop_person(writing)
    standing = figures_standing(writing, line, sale.buyer_id, shop)
    before = line_amounts(standing)
    _reckon_anew(writing, line, form)
    _refuse_settled_above(writing, line)
    after = line_amounts(figures_standing(writing, line, sale.buyer_id, shop))
    first = writing.session.scalars(
        select(LineEntry.entry_id).where(LineEntry.sale_line_id == line.id).order_by(LineEntry.id).limit(1)
    ).one()
    entry = writing.book(
        [*after, *mirrored(before)], f"{sale.number} line {line.n} reduced, first entry {first}"
    )
    writing.add(LineEntry(sale_line_id=line.id, entry_id=entry, role="reduction"))
    reduced = figures_standing(writing, line, sale.buyer_id, shop).fees
    for fee_before, fee in zip(standing.fees, reduced, strict=True):
        fee_paid_already(writing, fee.person_id, fee_before.whole - fee.whole, sale.number)
    cover(writing, line.id, f"{sale.number} line {line.n} reduced")
    from shopledger.queries.facts.invoice import invoice_facts

    count = len(writing.session.scalars(select(LineEntry.id).where(LineEntry.sale_line_id == line.id)).all())
    facts = invoice_facts(writing, sale.id, f"{sale.number}/{line.n}.{count}", writing.on)
    paper = leave_paper(writing, "invoice", facts, person_id=sale.buyer_id, sale_id=sale.id)
    return Outcome(Subject.SALE, sale.id, CHANGED, (paper,))


def _reckon_anew(writing: Writing, line: SaleLine, form: ReducePrice) -> None:
    line.discount = max(0, line.asking - form.price.minor)
    if line.kind != "consigned":
        sale = sale_of(writing, line.sale_id)
        taxable = form.price if line.sales_tax else Money.zero(writing.currency)
        tax = Money.zero(writing.currency)
        if sale.tax_scheme == Scheme.SALES_TAX and sale.tax_rate is not None:
            tax = sales_tax(taxable, sale.tax_rate, exempt=sale.exempt)
        if sale.tax_scheme == Scheme.MARGIN and sale.tax_rate is not None:
            bought = line.cost - (work_in_cost(writing, line.stay_id) if line.stay_id is not None else 0)
            line.margin_vat = margin_vat_on_own(writing.money(bought), form.price, sale.tax_rate).minor
        line.price, line.sales_tax = form.price.minor, tax.minor
        line.buyer_pays = form.price.minor + tax.minor
        line.shop_keeps = form.price.minor - line.cost - line.margin_vat
        writing.session.flush()
        return
    case, split = _reckoned(writing, line, form)
    if split.floor_short_by and form.consent_on is not None:
        writing.add(
            Consent(
                sale_line_id=line.id,
                about="floor",
                given_by=form.consent_by,
                given_on=form.consent_on,
                how=form.consent_how,
            )
        )
    commission = line.commission
    for name in FIGURES:
        if name != "floor_short_by":
            setattr(line, name, getattr(split, name).minor)
    line.reckoned_from = case_text(case)
    for owner, amount in zip(owners_of_line(writing, line.id), split.owners, strict=True):
        owner.net = amount.amount.minor
    fee = split.referral_owner.minor + split.referral_shop.minor
    dealers = 0
    if commission:
        # The share itself is not on record, only what it came to: it falls as the commission falls.
        dealers = writing.money(line.dealer_share).times(Fraction(line.commission, commission)).minor
    line.dealer_share = dealers
    for referral in writing.session.scalars(select(LineReferral).where(LineReferral.sale_line_id == line.id)):
        referral.minor = dealers if referral.as_dealer else fee
    writing.session.flush()


def _refuse_settled_above(writing: Writing, line: SaleLine) -> None:
    for owner in owner_lines(writing, [line.id], writing.on):
        if owner.settled > owner.net and not owner.is_shop:
            raise Refused(
                N_("{settled} is settled with {owner} already. Take the line back and sell it again."),
                field="price",
                settled=owner.settled,
                owner=owner.name,
            )


def preview_reduce_price(reading: Reading, form: ReducePrice) -> Preview:
    """Give the working of the line at the lower price, as it would be posted."""
    line = _line_to_reduce(reading, form)
    was = Line(_("Price until now"), "", reading.money(line.price))
    if line.kind != "consigned":
        return Preview(_("What this price leaves"), (was, Line(_("Price"), "", form.price, strong=True)))
    _case, split = _reckoned(reading, line, form)
    return Preview(_("What this price leaves"), (was, *reckoned_lines(reading, split)))


REDUCE_PRICE = Act(
    name="reduce_price",
    text=N_("Reduce the price"),
    subject=Subject.SALE,
    form=ReducePrice,
    run=run_reduce_price,
    subject_input="sale_id",
    allowed=refuse_all_back,
    preview=preview_reduce_price,
    papers=("invoice",),
)
ACTS = (REDUCE_PRICE,)
