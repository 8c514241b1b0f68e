"""A line that is ready to be sold, and what of it reaches the journal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from shopledger.acts.owning import Share
from shopledger.acts.selling_forms import SellLine
from shopledger.model import Instrument, Stay, Terms
from shopledger.quantities.money import Money
from shopledger.queries.away import Placed
from shopledger.queries.on_trial import OnTrial
from shopledger.queries.standing import HoldNow
from shopledger.rules.first_in import Take
from shopledger.rules.posting import Fee, LineFigures, OwnerNet
from shopledger.rules.split import Split
from shopledger.rules.terms import (
    Case,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """A line that can be sold: its figures, ready to be written and posted."""

    n: int
    form: SellLine
    what: str
    asking: Money
    price: Money
    buyer_pays: Money
    sales_tax: Money
    instrument: Instrument | None = None
    stay: Stay | None = None
    hold: HoldNow | None = None
    trial: OnTrial | None = None
    """The line by which it is on trial with its buyer."""
    placed: Placed | None = None
    """The placing with its buyer or the second dealer, which the sale ends."""
    terms: Terms | None = None
    case: Case | None = None
    split: Split | None = None
    owners: tuple[Share, ...] = ()
    cost: int = 0
    margin_vat: int = 0
    dealer_share: int = 0
    unsigned: bool = False
    takes: tuple[Take, ...] = ()
    """What of which lots goes with a line of goods."""
    costs: tuple[tuple[str, int, str, bool], ...] = field(default=())
    """What for, minor units, borne by, spent: each cost reckoned for itself."""


def what_words(instrument: Instrument) -> str:
    """Give the words for an instrument on an invoice line."""
    from shopledger.model import field_of
    from shopledger.quantities.words import _

    kind = _(field_of(Instrument.kind).choice_word(instrument.kind))
    name = instrument.title or kind.capitalize()
    maker = ""
    if instrument.maker:
        standing = _(field_of(Instrument.standing).choice_word(instrument.standing))
        known = instrument.standing != "unknown"
        maker = f", {standing} {instrument.maker}" if known else f", {instrument.maker} ({standing})"
    made = f", {instrument.made_when}" if instrument.made_when else ""
    return f"{name}{maker}{made}"


def figures_of(
    ready: Ready, buyer_id: int, shop_id: int, referrer_id: int | None, dealer_id: int | None
) -> LineFigures:
    """Give the figures of a line that reach the journal."""
    if ready.split is None:
        return LineFigures(
            kind=ready.form.kind,
            buyer_id=buyer_id,
            price=ready.price.minor,
            buyer_pays=ready.buyer_pays.minor,
            sales_tax=ready.sales_tax.minor,
            margin_vat=ready.margin_vat,
            cost=ready.cost,
        )
    split = ready.split
    fees = []
    whole = split.referral_owner.minor + split.referral_shop.minor
    if referrer_id is not None and whole:
        fees.append(Fee(referrer_id, whole, split.referral_shop.minor))
    if dealer_id is not None and ready.dealer_share:
        fees.append(Fee(dealer_id, ready.dealer_share, ready.dealer_share))
    return LineFigures(
        kind="consigned",
        buyer_id=buyer_id,
        price=split.price.minor,
        buyer_pays=split.buyer_pays.minor,
        sales_tax=split.sales_tax.minor,
        commission=split.commission.minor,
        owner_costs=split.owner_costs.minor,
        shop_costs=split.shop_costs.minor,
        vat_on_commission=split.vat_on_commission.minor,
        margin_vat=split.margin_vat.minor,
        cost=ready.cost,
        owners=tuple(
            OwnerNet(share.person_id, amount.amount.minor, share.person_id == shop_id)
            for share, amount in zip(ready.owners, split.owners, strict=True)
        ),
        fees=tuple(fees),
    )


def approval_until(lines: Sequence[Ready], on: date) -> date | None:
    """Give until when the buyer may return, the longest time that the terms of a line allow."""
    days = max((line.terms.approval_days for line in lines if line.terms is not None), default=0)
    return on + timedelta(days=days) if days else None
