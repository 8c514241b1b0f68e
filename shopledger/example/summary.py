"""What the example prints once it is built: the figures of one sale, and what is held, pending and in the bank."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sqlalchemy import func, select

from shopledger.model import Instrument, Payout, PayoutShare, Sale, SaleLine, Settlement, SettlementShare
from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.money import Money
from shopledger.quantities.showing import show_amount, show_day
from shopledger.quantities.words import _
from shopledger.queries.owing import balances, sale_money
from shopledger.store.ledger import Ledger
from shopledger.store.unit import Reading

LABEL_WIDTH = 24
AMOUNT_WIDTH = 14


@dataclass(frozen=True, slots=True)
class Summary:
    """Figures of the example as its ledger has them.

    Shape:  `figures` are labels and amounts of one sale in the order of the reckoning, `totals` those of the shop.
    """

    invoice: str
    what: str
    sold_on: date
    as_of: date
    figures: tuple[tuple[str, Money], ...]
    totals: tuple[tuple[str, Money], ...]
    manners: Manners = PLAIN

    def lines(self, ledger: Path, papers: int) -> list[str]:
        """Give the summary as lines to print."""
        currency = self.figures[0][1].currency
        return [
            _("The example shop is built: {ledger}, and {papers} papers beside it.").format(
                ledger=ledger.name, papers=papers
            ),
            "",
            _("Invoice {invoice}, {day}: {what} ({currency})").format(
                invoice=self.invoice,
                day=show_day(self.sold_on, self.manners),
                what=self.what,
                currency=currency,
            ),
            *self._table(self.figures),
            "",
            _("On {day}, in all ({currency})").format(
                day=show_day(self.as_of, self.manners), currency=currency
            ),
            *self._table(self.totals),
        ]

    def _table(self, rows: tuple[tuple[str, Money], ...]) -> Iterator[str]:
        for label, amount in rows:
            yield f"  {label:<{LABEL_WIDTH}}{show_amount(amount, self.manners):>{AMOUNT_WIDTH}}"


def summary_of(ledger: Ledger, sale_id: int, as_of: date) -> Summary:
    """Give the figures of a sale of one line, and the totals of the shop."""
    with ledger.read() as reading:
        sale = reading.session.get_one(Sale, sale_id)
        line = reading.session.scalars(select(SaleLine).where(SaleLine.sale_id == sale_id)).one()
        number = reading.session.scalar(select(Instrument.number).where(Instrument.id == line.instrument_id))
        settled, paid_out = _settled(reading, line.id)
        money = reading.money
        figures = (
            (_("Price"), money(line.price)),
            (_("Discount"), money(line.discount)),
            (_("Commission"), money(line.commission)),
            (_("Owner’s costs"), money(line.owner_costs)),
            (_("Owner’s net"), money(line.owner_net)),
            (_("Referral, by the shop"), money(line.referral_shop)),
            (_("The shop keeps"), money(line.shop_keeps)),
            (_("Sales tax"), money(line.sales_tax)),
            (_("The buyer pays"), money(line.buyer_pays)),
            (_("Paid"), sale_money(reading, sale_id).paid),
            (_("Settled"), money(settled)),
            (_("Paid out"), money(paid_out)),
        )
        now = balances(reading)
        totals = (
            (_("Held for owners"), money(-now.get("owners_held", 0))),
            (_("Pending for owners"), money(-now.get("owners_pending", 0))),
            (_("Bank, owners’ money"), money(now.get("bank_owners", 0))),
            (_("Bank, the shop’s"), money(now.get("bank", 0))),
        )
        return Summary(
            invoice=sale.number,
            what=f"{number}, {line.what}",
            sold_on=sale.sold_on,
            as_of=as_of,
            figures=figures,
            totals=totals,
            manners=ledger.manners,
        )


def _settled(reading: Reading, line_id: int) -> tuple[int, int]:
    """Give what of a line was set aside for its owners, and what of that was paid out, in minor units."""
    shares = (
        select(SettlementShare.id)
        .join(Settlement, Settlement.id == SettlementShare.settlement_id)
        .where(Settlement.sale_line_id == line_id)
    )
    due = reading.session.scalar(
        select(func.sum(SettlementShare.minor)).where(SettlementShare.id.in_(shares))
    )
    paid = reading.session.scalar(
        select(func.sum(PayoutShare.minor))
        .join(Payout, Payout.id == PayoutShare.payout_id)
        .where(PayoutShare.settlement_share_id.in_(shares))
    )
    return int(due or 0), int(paid or 0)
