"""Sales proved: every line conserves, equals its reckoning done anew, and stands in the journal as its figures say."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from sqlalchemy import func, select

from shopledger.model import (
    Instrument,
    LineEntry,
    LineOwner,
    LineReferral,
    OwnershipShare,
    Sale,
    SaleLine,
    Stay,
    TermsOwner,
)
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.words import N_
from shopledger.rules.posting import Fee, LineFigures, OwnerNet, line_amounts
from shopledger.rules.reckon_written import case_from
from shopledger.rules.reckoning import reckon
from shopledger.rules.split import FIGURES
from shopledger.store.proof.finding import Proof, summed

KEPT = tuple(name for name in FIGURES if name != "floor_short_by")
"""The figures of a reckoning that a line keeps; what is short of a floor is no figure of the sale."""


def prove_stays(proof: Proof) -> None:
    """Find what two unique indexes decide: at most one live sale a stay, at most one open stay an instrument."""
    sold = (
        select(Stay.number, func.count())
        .join(SaleLine, SaleLine.stay_id == Stay.id)
        .where(SaleLine.returned_on.is_(None))
    )
    for number, n in proof.rows(sold.group_by(Stay.number).having(func.count() > 1)):
        proof.wrong("stay", number, N_("The stay {number} is sold {n} times at once."), number=number, n=n)
    here = (
        select(Instrument.number, func.count())
        .join(Stay, Stay.instrument_id == Instrument.id)
        .where(Stay.ended_on.is_(None))
    )
    for number, n in proof.rows(here.group_by(Instrument.number).having(func.count() > 1)):
        proof.wrong("stay", number, N_("{number} is in the shop {n} times at once."), number=number, n=n)


def prove_shares(proof: Proof) -> None:
    """Find owners' shares that don't come to one: of ownerships, of terms, of lines."""
    for record, of, what in (
        (OwnershipShare, OwnershipShare.ownership_id, "ownership"),
        (TermsOwner, TermsOwner.terms_id, "terms"),
        (LineOwner, LineOwner.sale_line_id, "sale_line"),
    ):
        sums: dict[int, Fraction] = defaultdict(Fraction)
        for key, share in proof.rows(select(of, record.share)):
            sums[key] += share
        for key, together in sorted(sums.items()):
            if together != 1:
                where = f"{what} {key}"
                proof.wrong(
                    "share", where, N_("The owners' shares of {row} come to {together}, not to 1."), row=where,
                    together=str(together),
                )  # fmt: skip


def prove_sales(proof: Proof) -> None:
    """Go through every line of every sale."""
    owners = _by_line(
        proof,
        select(LineOwner.sale_line_id, LineOwner.person_id, LineOwner.share, LineOwner.net).order_by(
            LineOwner.n
        ),
    )
    fees = _by_line(
        proof,
        select(
            LineReferral.sale_line_id, LineReferral.person_id, LineReferral.as_dealer, LineReferral.minor
        ).order_by(LineReferral.id),
    )
    posted = proof.posted(LineEntry.sale_line_id, LineEntry.entry_id)
    columns = SaleLine.__table__.c
    question = (
        select(Sale.number, Sale.buyer_id, *columns)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .order_by(SaleLine.sale_id, SaleLine.n)
    )
    for line in proof.rows(question):
        where = f"{line.number} line {line.n}"
        mine = owners.get(line.id, ())
        _prove_sums(proof, where, line)
        if line.kind == "consigned":
            _prove_conserved(proof, where, line, mine)
            _prove_reckoned(proof, where, line, mine)
        _prove_posted(proof, where, line, mine, fees.get(line.id, ()), posted.get(line.id, {}))
    _prove_linked(proof)


def _by_line(proof: Proof, question: Any) -> Mapping[int, Sequence[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for row in proof.rows(question):
        found[row.sale_line_id].append(row)
    return found


def _prove_sums(proof: Proof, where: str, line: Any) -> None:
    if line.buyer_pays != line.price + line.sales_tax:
        proof.wrong(
            "sale",
            where,
            N_("{line}: the buyer pays {pays}, which is not the price {price} and the tax {tax}."),
            line=where,
            pays=proof.money(line.buyer_pays),
            price=proof.money(line.price),
            tax=proof.money(line.sales_tax),
        )


def _prove_conserved(proof: Proof, where: str, line: Any, owners: Sequence[Any]) -> None:
    parts = line.owner_net + line.commission + line.owner_costs + line.referral_owner + line.vat_on_commission
    if parts != line.price:
        proof.wrong(
            "sale",
            where,
            N_("{line}: net, commission, costs, referral and VAT come to {parts}, the price is {price}."),
            line=where,
            parts=proof.money(parts),
            price=proof.money(line.price),
        )
    nets = sum(owner.net for owner in owners)
    if nets != line.owner_net:
        proof.wrong(
            "sale",
            where,
            N_("{line}: the owners' parts come to {nets}, the net is {net}."),
            line=where,
            nets=proof.money(nets),
            net=proof.money(line.owner_net),
        )


def _prove_reckoned(proof: Proof, where: str, line: Any, owners: Sequence[Any]) -> None:
    try:
        split = reckon(case_from(line.reckoned_from))
    except LedgerError as error:
        proof.wrong(
            "sale",
            where,
            N_("{line}: what it was reckoned from can't be reckoned ({said})."),
            line=where,
            said=error.sentence(),
        )
        return
    other = [name for name in KEPT if getattr(split, name) != proof.money(getattr(line, name))]
    if other:
        proof.wrong(
            "sale",
            where,
            N_("{line}: reckoned anew it differs in {figures}."),
            line=where,
            figures=", ".join(other),
        )
    if [each.amount.minor for each in split.owners] != [owner.net for owner in owners]:
        proof.wrong("sale", where, N_("{line}: reckoned anew the owners' parts differ."), line=where)


def _prove_posted(
    proof: Proof, where: str, line: Any, owners: Sequence[Any], fees: Sequence[Any], posted: Any
) -> None:
    if line.returned_on is not None:
        if posted:
            proof.wrong(
                "sale",
                where,
                N_("{line} was returned, but its entries leave {left}."),
                line=where,
                left=proof.told(posted),
            )
        return
    figures = LineFigures(
        kind=line.kind,
        buyer_id=line.buyer_id,
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
            OwnerNet(each.person_id, each.net, each.person_id == proof.shop_person) for each in owners
        ),
        fees=tuple(
            Fee(each.person_id, each.minor, each.minor if each.as_dealer else line.referral_shop)
            for each in fees
        ),
    )
    wanted = summed(*((each.account, each.person_id, each.minor) for each in line_amounts(figures)))
    if wanted != posted:
        proof.wrong(
            "sale",
            where,
            N_("{line}: the journal has {posted}, by its figures it would be {wanted}."),
            line=where,
            posted=proof.told(posted),
            wanted=proof.told(wanted),
        )


def _prove_linked(proof: Proof) -> None:
    """Find lines without their entry of sale."""
    linked = select(LineEntry.sale_line_id).where(LineEntry.role == "sale")
    question = (
        select(Sale.number, SaleLine.n)
        .join(Sale, Sale.id == SaleLine.sale_id)
        .where(SaleLine.id.not_in(linked))
    )
    for number, n in proof.rows(question):
        where = f"{number} line {n}"
        proof.wrong("sale", where, N_("{line} has no entry in the journal."), line=where)
