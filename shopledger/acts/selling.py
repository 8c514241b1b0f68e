"""Selling: an invoice of lines, each posted by its own entry, with its papers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import select

from shopledger.acts.agreeing import end_agreement
from shopledger.acts.declare import Act, Outcome
from shopledger.acts.deposits import end_hold_of, set_off_deposits
from shopledger.acts.lots import write_takes
from shopledger.acts.owning import (
    WHOLE,
    Share,
    owners_now,
    put_ownership,
    put_shares,
    record_owners,
    shop_person,
)
from shopledger.acts.papers import leave_together, stating
from shopledger.acts.paying import CHANGED, falls_on, record_payment
from shopledger.acts.placing_ends import end_placing
from shopledger.acts.selling_forms import PartExchangeRow, Sell, SellLine
from shopledger.acts.selling_lines import buyer_of, ready_lines
from shopledger.acts.selling_preview import preview_sell
from shopledger.acts.selling_ready import Ready, approval_until, figures_of
from shopledger.acts.taking_in import begin_stay, intake_paper, need_open_stay
from shopledger.acts.terms import need_agreement, refuse_sold
from shopledger.acts.trial_kept import keep_sold
from shopledger.model import (
    Agreement,
    Consent,
    Instrument,
    LineCost,
    LineEntry,
    LineOwner,
    LineReferral,
    Payment,
    Person,
    Sale,
    SaleLine,
)
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_, _
from shopledger.queries.on_trial import on_trial
from shopledger.queries.owing import sale_money
from shopledger.queries.shapes import Subject
from shopledger.queries.shop import tax_now
from shopledger.queries.standing import asking_price
from shopledger.rules.journal import Amount
from shopledger.rules.posting import line_amounts
from shopledger.rules.reckon_written import case_text
from shopledger.rules.split import FIGURES
from shopledger.store.unit import Reading, Writing

KEPT_FIGURES = tuple(name for name in FIGURES if name != "floor_short_by")


def run_sell(writing: Writing, form: Sell) -> Outcome:
    """Sell: write the invoice, post each line, take part-exchange, set a deposit off, leave the papers."""
    buyer = buyer_of(writing, form)
    lines = ready_lines(writing, form, buyer)
    shop = shop_person(writing)
    number = writing.number("sale")
    # Put before the sale, so that they are written together with it.
    sold = [
        put_ownership(writing, line.instrument.id, f"sold, {number}")
        for line in lines
        if line.instrument is not None
    ]
    sale = writing.add(
        Sale(
            number=number,
            buyer_id=buyer.id,
            sold_on=writing.on,
            tax_scheme=form.tax_scheme,
            tax_rate=form.tax_rate if form.tax_scheme != "none" else None,
            exempt=form.exempt,
            exempt_reason=form.exempt_reason,
            approval_until=approval_until(lines, writing.on),
            note=form.note,
        )
    )
    written = [write_line(writing, form, sale, line, buyer, shop) for line in lines]
    for ownership in sold:
        put_shares(writing, ownership, [Share(buyer.id, WHOLE)])
    for line in lines:
        if line.stay is not None:
            end_hold_of(writing, line.hold, buyer.id, sale)
            end_placing(writing, line.placed, "sold")
        if line.terms is not None:
            agreement = writing.session.get_one(Agreement, line.terms.agreement_id)
            end_agreement(writing, agreement, "sold", sale.number)
    taken_in = [
        _take_part_exchange(writing, sale, buyer, row, f"part_exchange[{n}].allowance")
        for n, row in enumerate(form.part_exchange)
    ]
    # What was paid with a hold that ended before was dealt with then.
    refunds = set_off_deposits(writing, sale) if any(line.hold is not None for line in lines) else []
    refunds += keep_sold(writing, form, sale, [line.trial for line in lines if line.trial is not None])
    papers = [*_papers(writing, form, sale, lines, written), *taken_in, *refunds]
    return Outcome(Subject.SALE, sale.id, CHANGED | {Subject.TRIAL}, tuple(papers))


def write_line(writing: Writing, form: Sell, sale: Sale, ready: Ready, buyer: Person, shop: int) -> SaleLine:
    """Post a line of a sale and write it with what belongs to it."""
    entry = writing.book(
        line_amounts(figures_of(ready, buyer.id, shop, form.referrer_id, form.dealer_id)),
        f"{sale.number} line {ready.n + 1}",
    )
    line = SaleLine(
        sale_id=sale.id,
        n=ready.n + 1,
        kind=ready.form.kind,
        instrument_id=ready.instrument.id if ready.instrument else None,
        stay_id=ready.stay.id if ready.stay else None,
        terms_id=ready.terms.id if ready.terms else None,
        goods_id=ready.form.goods_id,
        what=ready.what,
        quantity=ready.form.quantity,
        asking=ready.asking.minor,
        price=ready.price.minor,
        buyer_pays=ready.buyer_pays.minor,
        sales_tax=ready.sales_tax.minor,
        discount=max(0, ready.asking.minor - ready.price.minor),
        margin_vat=ready.margin_vat,
        cost=ready.cost,
        shop_keeps=ready.price.minor - ready.cost - ready.margin_vat,
        dealer_share=ready.dealer_share,
        reckoned_from=case_text(ready.case) if ready.case else "{}",
    )
    if ready.split is not None:
        for name in KEPT_FIGURES:
            setattr(line, name, getattr(ready.split, name).minor)
    writing.add(line)
    writing.put(LineEntry(sale_line_id=line.id, entry_id=entry, role="sale"))
    if ready.takes:
        write_takes(writing, ready.takes, "sold", entry_id=entry, sale_line_id=line.id)
    _write_beside(writing, form, ready, line)
    return line


def _write_beside(writing: Writing, form: Sell, ready: Ready, line: SaleLine) -> None:
    """Write what belongs to a line: owners' nets, costs, fees, consents."""
    if ready.split is not None:
        for place, (share, amount) in enumerate(zip(ready.owners, ready.split.owners, strict=True), 1):
            writing.put(
                LineOwner(
                    sale_line_id=line.id,
                    person_id=share.person_id,
                    share=share.share,
                    net=amount.amount.minor,
                    n=place,
                )
            )
        fee = ready.split.referral_owner.minor + ready.split.referral_shop.minor
        if form.referrer_id is not None and fee:
            writing.put(
                LineReferral(
                    sale_line_id=line.id,
                    person_id=form.referrer_id,
                    as_dealer=False,
                    minor=fee,
                    borne_by=form.referral_borne_by,
                    told_buyer_on=form.told_buyer_on,
                    told_owner_on=form.told_owner_on,
                )
            )
        if form.dealer_id is not None and ready.dealer_share:
            writing.put(
                LineReferral(
                    sale_line_id=line.id,
                    person_id=form.dealer_id,
                    as_dealer=True,
                    minor=ready.dealer_share,
                    borne_by="shop",
                )
            )
    for what, minor, borne_by, spent in ready.costs:
        writing.put(LineCost(sale_line_id=line.id, what=what, minor=minor, borne_by=borne_by, spent=spent))
    for consent in form.consents:
        if consent.line == ready.n + 1:
            writing.put(
                Consent(
                    sale_line_id=line.id,
                    about=consent.about,
                    given_by=consent.given_by,
                    given_on=consent.given_on,
                    how=consent.how,
                )
            )
    if ready.unsigned:
        writing.put(
            Consent(
                sale_line_id=line.id,
                about="unsigned",
                given_by=form.by or writing.shop().name,
                given_on=writing.on,
                how=_("sold although the terms were not signed"),
            )
        )


def _take_part_exchange(writing: Writing, sale: Sale, buyer: Person, row: PartExchangeRow, field: str) -> int:
    """Take the buyer's instrument for the shop itself; it counts as paid only once the shop has funded it.

    Give the id of its receipt of intake.
    """
    money = sale_money(writing, sale.id)
    waiting = sum(
        writing.session.scalars(
            select(Payment.minor).where(Payment.sale_id == sale.id, Payment.method == "part_exchange")
        )
    )
    if row.allowance.minor <= 0 or row.allowance.minor + waiting > money.pays.minor:
        raise Refused(
            N_("The allowance has to be above zero, and all allowances together at most {most}."),
            field=field,
            most=money.pays,
        )
    instrument = writing.add(
        Instrument(
            number=writing.number("instrument"),
            kind=row.kind,
            description=row.description,
            standing="unknown",
        )
    )
    shop = shop_person(writing)
    stay = begin_stay(
        writing, instrument.id, {"reason": "own"}, brought_by=buyer.id, cost=row.allowance.minor
    )
    record_owners(writing, instrument.id, [Share(shop, WHOLE)], how=f"part-exchange, {sale.number}")
    entry = writing.book(
        [Amount("stock", row.allowance.minor), Amount("part_exchange", -row.allowance.minor, buyer.id)],
        f"{sale.number} part-exchange {stay.number}",
    )
    record_payment(
        writing,
        Payment(
            person_id=buyer.id,
            sale_id=sale.id,
            instrument_id=instrument.id,
            method="part_exchange",
            minor=row.allowance.minor,
            received_on=writing.on,
            reference=stay.number,
            entry_id=entry,
        ),
        falls_on(sale_money(writing, sale.id).lines, row.allowance.minor),
    )
    return intake_paper(writing, stay)


def _papers(
    writing: Writing, form: Sell, sale: Sale, lines: Sequence[Ready], written: Sequence[SaleLine]
) -> list[int]:
    from shopledger.queries.facts.bill_of_sale import bill_of_sale_facts
    from shopledger.queries.facts.invoice import invoice_facts, just_sold
    from shopledger.queries.facts.referral import referral_facts

    # A deposit set off and an instrument taken in part-exchange are the only payments that come with the sale itself.
    deposits = form.trial_id is not None or any(ready.hold or ready.trial for ready in lines)
    unpaid = not form.part_exchange and not deposits
    owners = [[(share.person_id, share.share) for share in ready.owners] for ready in lines]
    just_sold(writing, sale.id, list(zip(written, owners, strict=True)), unpaid=unpaid)
    papers = [
        stating(
            writing,
            "invoice",
            invoice_facts(writing, sale.id, sale.number, writing.on),
            person_id=sale.buyer_id,
            sale_id=sale.id,
        )
    ]
    for ready, line in zip(lines, written, strict=True):
        if ready.instrument is not None:
            facts = bill_of_sale_facts(writing, [line.id], writing.number("bill"), writing.on)
            papers.append(
                stating(
                    writing,
                    "bill_of_sale",
                    facts,
                    instrument_id=ready.instrument.id,
                    person_id=sale.buyer_id,
                    sale_id=sale.id,
                )
            )
    if form.referrer_id is not None:
        disclosed = referral_facts(writing, sale.id, writing.number("disclosure"), writing.on)
        papers.append(stating(writing, "referral", disclosed, person_id=form.referrer_id, sale_id=sale.id))
    return leave_together(writing, papers)


def refuse_unsellable(reading: Reading, instrument_id: int) -> None:
    """Refuse to sell what is not here, is sold, or has nothing agreed."""
    stay = need_open_stay(reading, instrument_id)
    refuse_sold(reading, stay)
    shop = shop_person(reading)
    if any(share.person_id != shop for share in owners_now(reading, instrument_id)):
        need_agreement(reading, instrument_id)


def prefill_sell(reading: Reading, instrument_id: int) -> Mapping[str, Any]:
    """Give one line at the asking price, and the shop's tax."""
    stay = need_open_stay(reading, instrument_id)
    shop = shop_person(reading)
    own = all(share.person_id == shop for share in owners_now(reading, instrument_id))
    scheme, rate = tax_now(reading, reading.ledger.today())
    line = SellLine(
        kind="own" if own else "consigned", instrument_id=instrument_id, price=asking_price(reading, stay.id)
    )
    if own and scheme == "vat_on_commission":
        scheme, rate = "none", None
    out = on_trial(reading, stay.id)
    buyer = {} if out is None else {"buyer_id": out.person_id}
    return {**buyer, "lines": (line,), "tax_scheme": scheme, "tax_rate": rate}


def prefill_sell_goods(reading: Reading, _id: int) -> Mapping[str, Any]:
    """Give one line for an accessory, and the shop's tax."""
    scheme, rate = tax_now(reading, reading.ledger.today())
    if scheme != "sales_tax":
        scheme, rate = "none", None
    return {"lines": (SellLine(kind="accessory"),), "tax_scheme": scheme, "tax_rate": rate}


LEAVES = ("invoice", "bill_of_sale", "referral", "intake", "refund_receipt")
SELL = Act(
    name="sell",
    text=N_("Sell"),
    subject=Subject.INSTRUMENT,
    form=Sell,
    run=run_sell,
    allowed=refuse_unsellable,
    prefill=prefill_sell,
    preview=preview_sell,
    shortcut="Ctrl+Shift+S",
    opposite="take_back",
    papers=LEAVES,
    preview_without=frozenset({"buyer_id"}),
)
SELL_GOODS = Act(
    name="sell_goods",
    text=N_("Sell goods"),
    subject=Subject.SHOP,
    form=Sell,
    run=run_sell,
    prefill=prefill_sell_goods,
    preview=preview_sell,
    opposite="take_back",
    help=N_("Accessories, work or freight without an instrument, or several things at once."),
    papers=LEAVES,
    preview_without=frozenset({"buyer_id"}),
)
ACTS = (SELL, SELL_GOODS)
