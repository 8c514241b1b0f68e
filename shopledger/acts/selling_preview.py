"""What a price leaves to whom, told before a sale: the reckoning of every line as it would be posted."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select

from shopledger.acts.deposits import deposits_of, left_of
from shopledger.acts.people import person_of
from shopledger.acts.selling_forms import Sell
from shopledger.acts.selling_lines import buyer_of, ready_lines
from shopledger.acts.selling_ready import Ready
from shopledger.acts.taking_in import open_stay
from shopledger.model import Person
from shopledger.quantities.words import _
from shopledger.queries.materials import caution_lines, caution_words, sale_cautions
from shopledger.queries.on_trial import deposits_of_trial, on_trial
from shopledger.queries.sheet_shapes import Line, Preview
from shopledger.queries.standing import hold_in_force
from shopledger.rules.materials_terms import Answer
from shopledger.rules.split import OwnerAmount, Split
from shopledger.store.unit import Reading


def preview_sell(reading: Reading, form: Sell) -> Preview:
    """Give the reckoning of every line, as it would be posted; the buyer need not be known yet."""
    lines: list[Line] = []
    total = 0
    several = len(form.lines) > 1
    buyer = _buyer_so_far(reading, form)
    found = ready_lines(reading, form, buyer)
    for ready in found:
        lead = f"{ready.n + 1}. " if several else ""
        if ready.split is not None:
            lines.extend(reckoned_lines(reading, ready.split, lead))
        else:
            lines.append(Line(lead + ready.what, "", ready.price))
            if ready.sales_tax:
                lines.append(Line(lead + _("Sales tax"), "", ready.sales_tax))
        total += ready.buyer_pays.minor
    if several:
        lines.append(Line(_("The buyer pays in all"), "", reading.money(total), strong=True))
    lines.extend(_set_off(reading, form, found, total))
    materials, warnings = _materials(reading, form, buyer)
    return Preview(_("What this price leaves"), (*lines, *materials), tuple(warnings))


def _set_off(reading: Reading, form: Sell, found: Sequence[Ready], total: int) -> list[Line]:
    """Give what the buyer's deposits, and things taken in part-exchange, leave to be paid; nothing without any."""
    holds = {ready.hold.id for ready in found if ready.hold is not None}
    trials = {ready.trial.trial_id for ready in found if ready.trial is not None}
    if form.trial_id is not None:
        trials.add(form.trial_id)
    deposits = [deposit for hold in holds for deposit in deposits_of(reading, hold)]
    deposits += [deposit for trial in trials for deposit in deposits_of_trial(reading, trial)]
    held = sum(left_of(reading, deposit) for deposit in deposits if deposit.cleared_on is not None)
    taken = sum(row.allowance.minor for row in form.part_exchange if row.allowance is not None)
    if not held and not taken:
        return []
    told = [(_("Deposit, set off"), min(held, total)), (_("Taken in part-exchange"), taken)]
    left = total - sum(minor for _words, minor in told)
    return [
        *(Line(words, "", reading.money(-minor)) for words, minor in told if minor),
        Line(_("Left to be paid"), "", reading.money(max(left, 0)), strong=True),
    ]


def _materials(reading: Reading, form: Sell, buyer: Person) -> tuple[list[Line], list[str]]:
    """Give what each instrument's materials may need: at home or abroad by the buyer's country, both while unknown.

    Shape:  what surely may need papers is a warning, all else a line.
    """
    lines: list[Line] = []
    warnings: list[str] = []
    for n, line in enumerate(form.lines, 1):
        if line.instrument_id is None:
            continue
        lead = f"{n}. " if len(form.lines) > 1 else ""
        told = sale_cautions(reading, line.instrument_id, form.on, buyer.country or "")
        if len(told) == 1 and told[0].answer is Answer.MAY_NEED_PAPERS:
            warnings.append(lead + caution_words(told[0]))
        else:
            lines.extend(caution_lines(told, lead))
    return lines, warnings


def reckoned_lines(reading: Reading, split: Split, lead: str = "") -> list[Line]:
    """Give the working of a reckoning, its owners by their names; `lead` stands before each label."""
    lines = []
    owners = iter(_owner_names(reading, split.owners))
    for step in split.working:
        if step.figure == "owners" and len(split.owners) == 1:
            continue  # the net above is theirs
        label = _("To {name}").format(name=next(owners)) if step.figure == "owners" else step.label
        total_line = step.figure in {"owner_net", "shop_keeps"}
        lines.append(Line(lead + label, step.how, step.amount, strong=total_line))
    return lines


def _buyer_so_far(reading: Reading, form: Sell) -> Person:
    """Give the buyer; while none is chosen whoever has an instrument on trial or on hold, or nobody in particular."""
    if form.buyer_id:
        return buyer_of(reading, form)
    for line in form.lines:
        stay = open_stay(reading, line.instrument_id) if line.instrument_id is not None else None
        if stay is None:
            continue
        for known in (on_trial(reading, stay.id), hold_in_force(reading, stay.id)):
            if known is not None:
                return person_of(reading, known.person_id)
    return Person(id=0, number="", name="", relation="none")


def _owner_names(reading: Reading, owners: Sequence[OwnerAmount]) -> list[str]:
    """Give the names of owners whom the reckoning knows by their numbers, in its order."""
    numbers = [owner.name for owner in owners]
    rows = reading.session.execute(select(Person.number, Person.name).where(Person.number.in_(numbers)))
    names = {number: name for number, name in rows}  # noqa: C416 - a result has keys(), so dict() misreads it
    return [names.get(number, number) for number in numbers]
