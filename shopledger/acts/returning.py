"""Taking a sale back, whole or line by line, to the cent; and a later reduction of a price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sqlalchemy import select

from shopledger.acts.charging import record_charge
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.acts.lots import bring_back, sold_of_line
from shopledger.acts.owning import Share, owners_now, record_owners, shop_person
from shopledger.acts.papers import leave_paper
from shopledger.acts.paying import CHANGED, above_zero, sale_of
from shopledger.acts.settling import owners_of_line
from shopledger.acts.taking_in import open_stay
from shopledger.acts.unsettling import cover, spent_of_line, unsettle
from shopledger.model import (
    Agreement,
    Custody,
    LineCost,
    LineEntry,
    LineReferral,
    Ownership,
    OwnershipShare,
    SaleLine,
    Stay,
    Terms,
)
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money, share_out
from shopledger.quantities.words import N_, _
from shopledger.queries.due import owner_lines
from shopledger.queries.owing import balance
from shopledger.queries.shapes import Subject
from shopledger.rules.journal import Amount, mirrored
from shopledger.rules.posting import Fee, LineFigures, OwnerNet, line_amounts
from shopledger.rules.reckon_written import case_from, case_text
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES
from shopledger.rules.tax import margin_vat_on_own, sales_tax
from shopledger.rules.terms import Scheme
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class TakeBack(Form):
    """The buyer gives something back."""

    sale_id: int
    lines: str = ask(
        Field(N_("Lines"), help=N_("Their numbers, such as 1, 3; empty for the whole sale.")), default=""
    )
    why: str = ask(Field(N_("Why"), required=True))


@dataclass(frozen=True, kw_only=True)
class ReducePrice(Form):
    """A price is lowered after the sale."""

    sale_id: int
    line: int = ask(Field(N_("Line"), Kind.COUNT), default=1)
    price: Money = ask(Field(N_("New price"), Kind.MONEY, required=True))
    why: str = ask(Field(N_("Why"), required=True))


def standing_lines(reading: Reading, sale_id: int) -> list[SaleLine]:
    """Give the lines of a sale that were not returned."""
    return list(
        reading.session.scalars(
            select(SaleLine)
            .where(SaleLine.sale_id == sale_id, SaleLine.returned_on.is_(None))
            .order_by(SaleLine.n)
        )
    )


def _chosen(reading: Reading, form: TakeBack) -> list[SaleLine]:
    standing = standing_lines(reading, form.sale_id)
    if not form.lines.strip():
        return standing
    try:
        numbers = {int(part) for part in form.lines.replace(",", " ").split()}
    except ValueError:
        raise Typed(N_("Type the numbers of the lines, such as 1, 3."), field="lines") from None
    chosen = [line for line in standing if line.n in numbers]
    missing = numbers - {line.n for line in chosen}
    if missing:
        raise Typed(
            N_("Line {line} is not on the invoice, or was returned already."),
            field="lines",
            line=min(missing),
        )
    return chosen


def run_take_back(writing: Writing, form: TakeBack) -> Outcome:
    """Reverse whole lines of a sale to the cent and put the instruments back where they were."""
    sale = sale_of(writing, form.sale_id)
    lines = _chosen(writing, form)
    if not lines:
        raise Refused(N_("{sale} was taken back already."), sale=sale.number)
    papers: list[int] = []
    for line in lines:
        papers += _take_back_line(writing, sale.number, sale.buyer_id, line, form.why)
    from shopledger.queries.facts.credit_note import credit_note_facts

    facts = credit_note_facts(
        writing, sale.id, [line.id for line in lines], writing.number("credit"), writing.on
    )
    papers.insert(0, leave_paper(writing, "credit_note", facts, person_id=sale.buyer_id, sale_id=sale.id))
    return Outcome(Subject.SALE, sale.id, CHANGED, tuple(papers))


def _take_back_line(writing: Writing, number: str, buyer_id: int, line: SaleLine, why: str) -> list[int]:
    source = f"{number} line {line.n} taken back"
    papers: list[int] = []
    if line.kind == "consigned":
        unsettle(writing, line.id, source)
        for person_id, minor in spent_of_line(writing, line.id).items():
            papers.append(
                record_charge(
                    writing,
                    person_id=person_id,
                    kind="paid_back",
                    what=_("payout of {sale}, taken back").format(sale=number),
                    minor=minor,
                    credit=[Amount("owners_pending", -minor, person_id)],
                    stay_id=line.stay_id,
                    sale_line_id=line.id,
                )
            )
        cover(writing, line.id, source, goes_back=True)
    entries = writing.session.scalars(
        select(LineEntry)
        .where(LineEntry.sale_line_id == line.id, LineEntry.role != "return")
        .order_by(LineEntry.id)
    ).all()
    reversals = [writing.reverse(entry.entry_id, source) for entry in entries]
    for reversal in reversals:
        writing.put(LineEntry(sale_line_id=line.id, entry_id=reversal, role="return"))
    if line.goods_id is not None:
        bring_back(writing, sold_of_line(writing, line.id), reversals[0])
    _fees_paid_already(writing, line, source)
    line.returned_on, line.returned_why = writing.on, why
    writing.session.flush()
    papers += _spent_costs(writing, number, line)
    if line.stay_id is not None and line.instrument_id is not None:
        _back_in_stock(writing, number, buyer_id, line)
    return papers


def _fees_paid_already(writing: Writing, line: SaleLine, source: str) -> None:
    """A fee that was paid already becomes that person's debt."""
    for fee in writing.session.scalars(select(LineReferral).where(LineReferral.sale_line_id == line.id)):
        _fee_paid_already(writing, fee.person_id, fee.minor, source)


def _fee_paid_already(writing: Writing, person_id: int, minor: int, source: str) -> None:
    above = min(balance(writing, "fees_due", person_id).minor, minor)
    if above > 0:
        writing.book([Amount("fees_owe", above, person_id), Amount("fees_due", -above, person_id)], source)


def _spent_costs(writing: Writing, number: str, line: SaleLine) -> list[int]:
    """Costs really spent stay with whom the agreement names for a sale that fails."""
    spent = sum(
        writing.session.scalars(
            select(LineCost.minor).where(LineCost.sale_line_id == line.id, LineCost.spent)
        )
    )
    if not spent:
        return []
    terms = writing.session.get(Terms, line.terms_id) if line.terms_id else None
    if terms is None or terms.failed_sale_costs_by == "shop":
        writing.book([Amount("selling_costs", spent), Amount("sale_costs", -spent)], f"{number} costs spent")
        return []
    shop = shop_person(writing)
    owners = owners_of_line(writing, line.id)
    parts = share_out(spent, [owner.share for owner in owners])
    own = sum(part for owner, part in zip(owners, parts, strict=True) if owner.person_id == shop)
    if own:
        writing.book([Amount("selling_costs", own), Amount("sale_costs", -own)], f"{number} costs spent")
    return [
        record_charge(
            writing,
            person_id=owner.person_id,
            kind="failed_sale",
            what=_("costs of {sale}, taken back").format(sale=number),
            minor=part,
            credit=[Amount("sale_costs", -part)],
            stay_id=line.stay_id,
            sale_line_id=line.id,
        )
        for owner, part in zip(owners, parts, strict=True)
        if part and owner.person_id != shop
    ]


def _back_in_stock(writing: Writing, number: str, buyer_id: int, line: SaleLine) -> None:
    """The sale is undone: its stay goes on, under the agreement it was sold under, for the owners before."""
    assert line.instrument_id is not None
    assert line.stay_id is not None
    now = owners_now(writing, line.instrument_id)
    if [share.person_id for share in now] != [buyer_id]:
        raise Refused(N_("It has changed owner since the sale, so the sale can't be taken back."))
    record_owners(
        writing, line.instrument_id, _owners_before(writing, line, number), how=f"{number} taken back"
    )
    stay = writing.session.get_one(Stay, line.stay_id)
    again = open_stay(writing, line.instrument_id)
    if again is not None and again.id != stay.id:
        raise Refused(
            N_("It came in again as {entry}. Record that it was returned, then take the sale back."),
            entry=again.number,
        )
    if stay.ended_on is not None:
        stay.ended_on, stay.ending, stay.handed_to = None, None, ""
        writing.session.flush()
        writing.add(Custody(stay_id=stay.id, place="here", since=writing.on, words=f"{number} taken back"))
    if line.terms_id is not None:
        terms = writing.session.get_one(Terms, line.terms_id)
        agreement = writing.session.get_one(Agreement, terms.agreement_id)
        if agreement.ended_how == "sold":
            agreement.ended_on, agreement.ended_how, agreement.ended_why = None, None, ""
            writing.session.flush()


def _owners_before(writing: Writing, line: SaleLine, number: str) -> Sequence[Share]:
    sold = writing.session.scalars(
        select(Ownership)
        .where(Ownership.instrument_id == line.instrument_id, Ownership.how == f"sold, {number}")
        .order_by(Ownership.id.desc())
    ).first()
    before = (
        select(Ownership.id)
        .where(Ownership.instrument_id == line.instrument_id, Ownership.id < (sold.id if sold else 0))
        .order_by(Ownership.id.desc())
        .limit(1)
    )
    rows = writing.session.execute(
        select(OwnershipShare.person_id, OwnershipShare.share)
        .where(OwnershipShare.ownership_id == before.scalar_subquery())
        .order_by(OwnershipShare.n)
    )
    return [Share(person_id, share) for person_id, share in rows]


def refuse_all_back(reading: Reading, sale_id: int) -> None:
    """Refuse where every line was taken back."""
    if not standing_lines(reading, sale_id):
        raise Refused(N_("{sale} was taken back."), sale=sale_of(reading, sale_id).number)


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


def run_reduce_price(writing: Writing, form: ReducePrice) -> Outcome:
    """Reckon a line afresh at a lower price and post the difference as an entry that names the first."""
    sale = sale_of(writing, form.sale_id)
    line = next((each for each in standing_lines(writing, sale.id) if each.n == form.line), None)
    if line is None:
        raise Typed(N_("Line {line} is not on the invoice, or was returned."), field="line", line=form.line)
    above_zero(form.price, writing.currency, "price")
    if form.price.minor >= line.price:
        raise Typed(
            N_("The new price has to be below {price}."), field="price", price=writing.money(line.price)
        )
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
        _fee_paid_already(writing, fee.person_id, fee_before.whole - fee.whole, sale.number)
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
            line.margin_vat = margin_vat_on_own(writing.money(line.cost), form.price, sale.tax_rate).minor
        line.price, line.sales_tax = form.price.minor, tax.minor
        line.buyer_pays = form.price.minor + tax.minor
        line.shop_keeps = form.price.minor - line.cost - line.margin_vat
        writing.session.flush()
        return
    case = replace(case_from(line.reckoned_from), price=form.price)
    try:
        split = reckon(case, writing.ledger.manners)
    except (Typed, Refused) as error:
        error.field = "price"
        raise
    if split.floor_short_by:
        raise Refused(
            N_("The owner would get {short} less than the lowest net agreed. Keep the price above that."),
            field="price",
            short=split.floor_short_by,
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


TAKE_BACK = Act(
    name="take_back",
    text=N_("Take back"),
    subject=Subject.SALE,
    form=TakeBack,
    run=run_take_back,
    subject_input="sale_id",
    allowed=refuse_all_back,
    papers=("credit_note", "charge_note"),
)
REDUCE_PRICE = Act(
    name="reduce_price",
    text=N_("Reduce the price"),
    subject=Subject.SALE,
    form=ReducePrice,
    run=run_reduce_price,
    subject_input="sale_id",
    allowed=refuse_all_back,
    papers=("invoice",),
)
ACTS = (TAKE_BACK, REDUCE_PRICE)
