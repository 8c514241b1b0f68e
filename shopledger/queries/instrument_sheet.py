"""The page about an instrument: what it is, where it stands, its facts, money, papers and history.

The facts derive from the declared fields of the records, so a new field shows up by itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from shopledger.model import (
    Fitting,
    Instrument,
    SaleLine,
    Stay,
    Terms,
    field_of,
)
from shopledger.model.instruments import INSTRUMENT_KINDS
from shopledger.quantities.showing import show_amount, show_rate
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.away_lines import placings_of_instrument, shipments_of_instrument
from shopledger.queries.condition import reports_of
from shopledger.queries.custody import where_it_is
from shopledger.queries.damages import damages_of_instrument, valuations_of
from shopledger.queries.declared import facts_of, row_of
from shopledger.queries.fit import feel_facts
from shopledger.queries.instrument_history import history_of
from shopledger.queries.instrument_money import money_of
from shopledger.queries.instrument_standing import Teller, state_now
from shopledger.queries.job_lines import jobs_of_instrument
from shopledger.queries.materials import materials_of
from shopledger.queries.measure_lines import measure_facts
from shopledger.queries.papers import papers_about
from shopledger.queries.photographs import photographs_of_instrument
from shopledger.queries.reckoned import brackets_of
from shopledger.queries.setup import setups_of
from shopledger.queries.shapes import Subject
from shopledger.queries.sheet_shapes import Fact, Group, Sheet
from shopledger.queries.standing import (
    StayNow,
    hold_in_force,
    last_agreement,
    last_stay,
    owners_of,
)
from shopledger.queries.trial_lines import trials_of_instrument
from shopledger.queries.wish_sheet import who_looks_for
from shopledger.rules.measures import fittings_for, part_words

if TYPE_CHECKING:
    from shopledger.store.unit import Reading

TITLES = {
    "made_by": N_("{kind} by {maker}"),
    "attributed_to": N_("{kind} attributed to {maker}"),
    "workshop_of": N_("{kind}, workshop of {maker}"),
    "labelled": N_("{kind} labelled {maker}"),
}
"""How the standing of a maker's name is said in a title."""
STRUNG = frozenset(kind for kind, _words in INSTRUMENT_KINDS) - {"bow", "case", "other"}
IN_HEAD = ("number", "kind")
"""Fields that the head of the page always shows."""


def title_of(row: Row[Any]) -> str:
    """Give what an instrument is called: the name it is known by, else its kind and maker."""
    kind = _(field_of(Instrument.kind).choice_word(row.kind))
    kind = kind[:1].upper() + kind[1:]
    if row.title:
        return _("{kind} “{title}”").format(kind=kind, title=row.title)
    said = TITLES.get(row.standing)
    if said is None or not row.maker:
        return _("{kind}, maker unknown").format(kind=kind)
    return _(said).format(kind=kind, maker=row.maker)


def line_of(row: Row[Any]) -> str:
    """Give what an instrument is in one line: number, maker under a title, when and where made, size, strings."""
    parts = [
        row.number,
        row.maker if row.title else "",
        row.made_when,
        row.made_where,
        row.size,
        count_words("{n} string", "{n} strings", row.string_count) if row.string_count else "",
    ]
    return " · ".join(part for part in parts if part)


def sheet(reading: Reading, id: int) -> Sheet:
    """Give the page about an instrument.

    Raises: NotFound: there is no such instrument.
    """
    row = row_of(reading, Instrument, id)
    stay = last_stay(reading, id)
    hold = hold_in_force(reading, stay.id) if stay is not None else None
    money_title, money = money_of(reading, stay)
    sales = reading.session.scalars(select(SaleLine.sale_id).where(SaleLine.instrument_id == id)).all()
    return Sheet(
        subject=Subject.INSTRUMENT,
        id=id,
        title=title_of(row),
        line=line_of(row),
        standing=Teller(reading).tell(stay),
        state=state_now(stay, hold),
        strung=row.kind in STRUNG,
        groups=(
            Group(N_("What it is"), facts_of(reading, Instrument, row, without=IN_HEAD)),
            Group(N_("Measurements"), measure_facts(reading, id, row.kind), measured=True),
            Group(N_("Which size it feels like"), feel_facts(reading, id, row.kind)),
            Group(N_("Fittings"), _fittings(reading, id, row.kind)),
            *materials_of(reading, id),
            Group(N_("Owners"), _owners(reading, id)),
            Group(N_("Who looks for such"), who_looks_for(reading, id, row.kind)),
            Group(N_("Trials"), trials_of_instrument(reading, id)),
            Group(N_("With other dealers"), placings_of_instrument(reading, id)),
            Group(N_("Sent"), shipments_of_instrument(reading, id)),
            Group(N_("Jobs"), jobs_of_instrument(reading, id)),
            *reports_of(reading, id),
            *setups_of(reading, id),
            *where_it_is(reading, id),
            valuations_of(reading, id),
            damages_of_instrument(reading, id),
            *_stay_groups(reading, stay),
        ),
        money=money,
        money_title=money_title,
        papers=papers_about(reading, id, list(sales)),
        photographs=photographs_of_instrument(reading, id),
        history=history_of(reading, id),
    )


def _fittings(reading: Reading, instrument_id: int, kind: str) -> tuple[Fact, ...]:
    order = {part.key: n for n, part in enumerate(fittings_for(kind))}
    rows = reading.session.execute(
        select(Fitting.part, Fitting.what).where(Fitting.instrument_id == instrument_id).order_by(Fitting.id)
    ).all()
    facts = []
    for part, what in sorted(rows, key=lambda row: order.get(row.part, len(order))):
        words = _(part_words(part))
        facts.append(Fact(words[:1].upper() + words[1:], what))
    return tuple(facts)


def _owners(reading: Reading, instrument_id: int) -> tuple[Fact, ...]:
    manners = reading.ledger.manners
    owners = owners_of(reading, instrument_id)
    return tuple(
        Fact(N_("Owner"), owner.name, show_rate(owner.share, manners) if len(owners) > 1 else owner.number)
        for owner in owners
    )


def _stay_groups(reading: Reading, stay: StayNow | None) -> tuple[Group, ...]:
    """Give the facts of the newest stay, of its terms and of its charges."""
    if stay is None:
        return ()
    groups = [Group(N_("Its stay here"), facts_of(reading, Stay, row_of(reading, Stay, stay.id)))]
    agreement = last_agreement(reading, stay.id)
    if agreement is not None:
        terms = row_of(reading, Terms, agreement.terms.id)
        manners = reading.ledger.manners
        brackets = [
            _("{rate} up to {bound}").format(
                rate=show_rate(bracket.rate, manners), bound=show_amount(bracket.up_to, manners)
            )
            if bracket.up_to is not None
            else _("{rate} above").format(rate=show_rate(bracket.rate, manners))
            for bracket in brackets_of(agreement.terms.commission_brackets, reading.currency)
        ]
        head = [
            Fact(N_("Agreement"), agreement.number),
            Fact(N_("Signed on"), agreement.signed_on or _("not yet")),
        ]
        if brackets:
            head.append(Fact(field_of(Terms.commission_brackets).label, "; ".join(brackets)))
        title = N_("Terms in force") if agreement.in_force else N_("Terms of the agreement that ended")
        groups.append(Group(title, (*head, *facts_of(reading, Terms, terms))))
    return tuple(groups)
