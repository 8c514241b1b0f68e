"""What may go out on trial: each thing of a form gone through, with everything that could refuse it asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shopledger.acts.columns import filled
from shopledger.acts.custody import refuse_before
from shopledger.acts.describing import instrument_of
from shopledger.acts.going_out import free_to_go, refuse_not_here
from shopledger.acts.owning import owners_now, shop_person
from shopledger.acts.paying import above_zero
from shopledger.acts.people import person_of
from shopledger.acts.terms import agreed_for, is_signed
from shopledger.acts.trial_forms import LendOnTrial, LendRow
from shopledger.acts.trials import check_agreed_until, check_signed
from shopledger.model import Person, Stay, Trial
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.words import N_
from shopledger.queries.groups import group_beginning
from shopledger.queries.standing import hold_in_force, last_stay
from shopledger.rules.places import read_place
from shopledger.store.unit import Reading


@dataclass(frozen=True, slots=True)
class Lent:
    """A line that can go out: a stay of the ledger, or nothing but words."""

    row: LendRow
    stay: Stay | None
    minor: int
    unsigned: str = ""
    """The number of an agreement that is not signed yet."""


def lendable(reading: Reading, instrument_id: int) -> Stay:
    """Give the stay of an instrument that is here and may be tried by someone.

    Raises: NotFound, Refused: it isn't here to be sold, is sold, out already, at work, or its agreement forbids it.
    """
    stay, number = free_to_go(
        reading, instrument_id, N_("{instrument} is not here to be sold: it isn't lent on trial.")
    )
    refuse_not_here(reading, instrument_id, number)
    shop = shop_person(reading)
    if any(share.person_id != shop for share in owners_now(reading, instrument_id)):
        agreement, terms = agreed_for(reading, stay)
        if not terms.trials_allowed:
            raise Refused(
                N_("{agreement} does not allow trials. Agree an addendum first."), agreement=agreement.number
            )
    return stay


def ready_to_lend(reading: Reading, form: LendOnTrial) -> tuple[Trial, Person, tuple[Lent, ...]]:
    """Give what a form lends, with everything that could refuse it asked; nothing is written.

    Raises: Typed, Refused, NotFound: it can't go out so; the field names why.
    """
    values = {**group_beginning(Trial), **form.trial}
    trial = filled(Trial, values, reading.currency, path="trial", number="", began_on=form.on)
    trial.goes_to = read_place(trial.goes_to or "", "trial.goes_to")
    player = person_of(reading, trial.person_id, "trial.person_id")
    if player.relation == "shop":
        raise Typed(N_("That is the shop itself. Choose the player."), field="trial.person_id")
    if trial.due_on < form.on:
        raise Typed(
            N_("It can't be due back before it goes out on {day}."), field="trial.due_on", day=form.on
        )
    check_signed(trial.signed_on, form.on, "trial.signed_on")
    seen: set[int] = set()
    lent = []
    for n, row in enumerate(form.lines):
        if row.instrument_id is not None:
            if row.instrument_id in seen:
                raise Typed(N_("It stands on the list already."), field=f"lines[{n}].instrument_id")
            seen.add(row.instrument_id)
        lent.append(_line(reading, form, n, row, trial, player))
    if form.deposit is not None:
        above_zero(form.deposit, reading.currency, "deposit")
    return trial, player, tuple(lent)


def _line(reading: Reading, form: LendOnTrial, n: int, row: LendRow, trial: Trial, player: Person) -> Lent:
    path = f"lines[{n}]"
    if row.value is None:
        raise Typed(N_("Without its value nothing goes out on trial: write it."), field=f"{path}.value")
    minor = above_zero(row.value, reading.currency, f"{path}.value")
    if row.instrument_id is None:
        if not row.what.strip():
            raise Typed(N_("What is it? Choose an instrument, or say it in words."), field=f"{path}.what")
        return Lent(row, None, minor)
    if row.what.strip():
        raise Typed(
            N_("An instrument has its own words: leave this empty, or give the thing a line of its own."),
            field=f"{path}.what",
        )
    try:
        stay = lendable(reading, row.instrument_id)
        _refuse_held(reading, stay, player)
        check_agreed_until(reading, stay, trial.due_on, "trial.due_on")
    except Refused as error:
        error.field = error.field or f"{path}.instrument_id"
        raise
    now = last_stay(reading, row.instrument_id)
    if now is not None:
        refuse_before(form.on, now.since, instrument_of(reading, row.instrument_id).number)
    return Lent(row, stay, minor, _unsigned(reading, stay))


def _refuse_held(reading: Reading, stay: Stay, player: Person) -> None:
    """Refuse to lend what is kept for someone else."""
    hold = hold_in_force(reading, stay.id)
    if hold is not None and hold.person_id != player.id:
        raise Refused(
            N_("{instrument} is on hold for {player} until {day}. End the hold first."),
            instrument=instrument_of(reading, stay.instrument_id).number,
            player=hold.name,
            day=hold.until,
        )


def _unsigned(reading: Reading, stay: Stay) -> str:
    shop = shop_person(reading)
    if all(share.person_id == shop for share in owners_now(reading, stay.instrument_id)):
        return ""
    agreement, terms = agreed_for(reading, stay)
    return "" if is_signed(reading, terms.id) else agreement.number


def reported_line(form: LendOnTrial, lent: Sequence[Lent]) -> int | None:
    """Give the number of the line that the form's marks and photographs are about; None where it has none."""
    if not (form.marks or form.pictures):
        return None
    return said_of([n for n, line in enumerate(lent, 1) if line.stay is not None], form.report_line)


def said_of(numbers: Sequence[int], given: int | None, field: str = "report_line") -> int:
    """Give the number of the line that a report is about.

    Shape:  `numbers` are those of the lines it can be about; `given` was typed, None where nothing was.
    Raises: Typed: it can't be told which one is meant.
    """
    if given is None and len(numbers) == 1:
        return numbers[0]
    if given is None or given not in numbers:
        raise Typed(
            N_("Which line is that about? Write one of {lines}.")
            if numbers
            else N_("There is no instrument of the ledger here that a report could be about."),
            field=field,
            lines=", ".join(map(str, numbers)),
        )
    return given
