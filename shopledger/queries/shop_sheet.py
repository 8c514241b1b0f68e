"""The shop's own page: its facts, its dated rates of tax and its terms of work, to read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sqlalchemy import select

from shopledger.model import DatedRate, Shop, fields_of
from shopledger.quantities.showing import show_day, show_rate
from shopledger.quantities.words import N_, _
from shopledger.queries.declared import column_of, facts_of, shown
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Sheet

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

HEAD = frozenset({"name"})
WORK = (
    "work_rate",
    "estimate_days",
    "allowed_excess",
    "work_tax_basis",
    "tax_on_labour",
    "tax_on_parts",
    "tax_on_services",
)
MANNERS = ("currency", "locale", "time_zone", "paper_size", "retention_years", "pay_within_days")
"""What says how the ledger is kept, and the terms of work; all else about the shop says who it is."""


def sheet(reading: Reading) -> Sheet:
    """Give the page about the shop itself."""
    table = Shop.__table__
    row = reading.session.execute(select(*table.columns).where(column_of(Shop, "id") == 1)).one()
    who = facts_of(reading, Shop, row, {*HEAD, *MANNERS, *WORK, "tax_scheme"})
    kept = facts_of(reading, Shop, row, {*HEAD, *WORK, "address", "phone", "email", "tax_scheme"})
    work = facts_of(reading, Shop, row, fields_of(Shop).keys() - set(WORK))
    named = row._mapping
    return Sheet(
        Subject.SHOP,
        1,
        named["name"],
        line=named["address"].replace("\n", ", "),
        groups=(
            Group(N_("The shop"), who),
            Group(N_("How the ledger is kept"), kept),
            Group(N_("Tax"), _tax(reading)),
            Group(N_("Terms of work"), work),
        ),
    )


def _tax(reading: Reading) -> tuple[Fact, ...]:
    shop = reading.shop()
    scheme = column_of(Shop, "tax_scheme").info["field"]
    facts = [Fact(scheme.label, shown(reading, scheme, shop.tax_scheme))]
    manners = reading.ledger.manners
    rates = reading.session.execute(
        select(DatedRate.rate, DatedRate.from_on, DatedRate.source)
        .where(DatedRate.scheme == shop.tax_scheme)
        .order_by(DatedRate.from_on)
    )
    for rate, from_on, source in rates:
        since = _("from {day}").format(day=show_day(from_on, manners))
        facts.append(
            Fact(N_("Rate"), show_rate(rate, manners), ", ".join(part for part in (since, source) if part))
        )
    return tuple(facts)
