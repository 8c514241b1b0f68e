"""People: adding someone and correcting what is known of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.columns import filled, refill
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.model import Person, asked_of
from shopledger.quantities.errors import NotFound, Refused
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.rules.places import read_place
from shopledger.store.unit import Reading, Writing

CHANGED = frozenset({Subject.PERSON, Subject.INSTRUMENT, Subject.SALE})


@dataclass(frozen=True, kw_only=True)
class AddPerson(Form):
    """Someone new."""

    person: Mapping[str, Any] = ask(Field(N_("Person"), Kind.GROUP, of=Person))


@dataclass(frozen=True, kw_only=True)
class ChangePerson(Form):
    """Someone known, with what is to be written anew."""

    person_id: int = ask(Field(N_("Person"), Kind.PERSON, required=True))
    person: Mapping[str, Any] = ask(Field(N_("What is known"), Kind.GROUP, of=Person))


def person_of(reading: Reading, person_id: int, field: str | None = None) -> Person:
    """Give a person's record.

    Raises: NotFound, in words, naming the input where one is given.
    """
    person = reading.find(Person, person_id)
    if person is None:
        raise NotFound(
            N_("There is no such person in the ledger. Choose someone, or add them first."), field=field
        )
    return person


def _refuse_shop_relation(person: Mapping[str, Any], path: str = "person") -> None:
    if person.get("relation") == "shop":
        raise Refused(
            N_("The shop itself is in the ledger already. Choose family, staff or none."),
            field=f"{path}.relation",
        )


def record_person(writing: Writing, values: Mapping[str, Any], path: str = "person") -> Person:
    """Write a new person under the next number, from the group of a form that stands at a path; give the record.

    Raises: Typed, Refused: a value can't be so, or it is said to be the shop itself.
    """
    _refuse_shop_relation(values, path)
    person = filled(Person, values, writing.currency, path=path, number="")
    person.country = read_place(person.country or "", f"{path}.country")
    person.number = writing.number("person")
    writing.add(person)
    return person


def run_add_person(writing: Writing, form: AddPerson) -> Outcome:
    """Add a person under the next number."""
    person = record_person(writing, form.person)
    return Outcome(Subject.PERSON, person.id, frozenset({Subject.PERSON}))


def refuse_unknown(reading: Reading, person_id: int) -> None:
    """Refuse what is about nobody in the ledger."""
    person_of(reading, person_id)


def run_change_person(writing: Writing, form: ChangePerson) -> Outcome:
    """Write what is known of a person anew; papers issued before stay as they were."""
    person = person_of(writing, form.person_id, "person_id")
    if person.relation != "shop":
        _refuse_shop_relation(form.person)
    refill(person, form.person, writing.currency, path="person")
    person.country = read_place(person.country or "", "person.country")
    writing.session.flush()
    return Outcome(Subject.PERSON, person.id, CHANGED)


def prefill_change_person(reading: Reading, person_id: int) -> Mapping[str, Any]:
    """Give what is known now."""
    person = person_of(reading, person_id)
    return {"person": {name: getattr(person, name) for name in asked_of(Person)}}


ADD_PERSON = Act(
    name="add_person",
    text=N_("Add a person"),
    subject=Subject.SHOP,
    form=AddPerson,
    run=run_add_person,
    shortcut="Ctrl+Shift+P",
    help=N_("Whoever is owner, buyer, player, referrer or dealer is one record."),
)
CHANGE_PERSON = Act(
    name="change_person",
    text=N_("Change what is known"),
    subject=Subject.PERSON,
    form=ChangePerson,
    run=run_change_person,
    subject_input="person_id",
    allowed=refuse_unknown,
    prefill=prefill_change_person,
)
ACTS = (ADD_PERSON, CHANGE_PERSON)
