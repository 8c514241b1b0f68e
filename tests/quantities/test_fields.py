"""Field declarations: what is checked by kind, how forms derive their inputs, how rows name their place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import LONGEST_LINE, LONGEST_TEXT, Field, Kind, ask, check_inputs, inputs
from shopledger.quantities.words import N_

STATES = Field(N_("State"), Kind.CHOICE, required=True, choices=(("new", N_("new")), ("worn", N_("worn"))))


def _even(value: int) -> None:
    if value % 2:
        raise Typed(N_("{label} has to be even."))


@dataclass(frozen=True, kw_only=True)
class Cost:
    what: str = ask(Field(N_("What"), required=True))
    pegs: int | None = ask(Field(N_("Pegs"), Kind.COUNT, checks=(_even,)))


@dataclass(frozen=True, kw_only=True)
class Intake:
    name: str = ask(Field(N_("Name"), required=True))
    state: str = ask(STATES)
    words: str | None = ask(Field(N_("Remarks"), Kind.LINES))
    costs: tuple[Cost, ...] = ask(Field(N_("Costs"), Kind.ROWS, of=Cost))
    case: bool = ask(Field(N_("With its case"), Kind.YES_NO))
    fittings: dict[str, Any] = ask(Field(N_("Fittings"), Kind.GROUP))
    undeclared: int = 3


def test_inputs_are_the_declared_fields_in_their_order() -> None:
    assert list(inputs(Intake)) == ["name", "state", "words", "costs", "case", "fittings"]
    assert inputs(Intake)["state"] is STATES


def test_what_is_not_required_has_an_empty_default_of_its_kind() -> None:
    form = Intake(name="Cello", state="new")
    assert (form.words, form.costs, form.case, form.fittings) == (None, (), False, {})
    assert form.fittings is not Intake(name="Viol", state="new").fittings


def test_a_required_input_cant_be_left_out() -> None:
    with pytest.raises(TypeError):
        Intake(name="Cello")  # type: ignore[call-arg]


@pytest.mark.parametrize("nothing", [None, "", ()])
def test_a_missing_required_value_is_refused(nothing: object) -> None:
    with pytest.raises(Typed, match=r"Name is missing: it has to be given\.") as refused:
        Field(N_("Name"), required=True).check("name", nothing)
    assert refused.value.field == "name"


@pytest.mark.parametrize("nothing", [None, "", ()])
def test_a_missing_value_that_nobody_needs_is_not_checked(nothing: object) -> None:
    Field(N_("Pegs"), Kind.COUNT, checks=(_even,)).check("pegs", nothing)


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        (STATES, "old", "State can't be “old”: choose one of new, worn."),
        (Field(N_("Strings"), Kind.COUNT), -1, "Strings has to be a whole number from 0 up."),
        (Field(N_("Strings"), Kind.COUNT), 10**13, "Strings has to be a whole number from 0 up."),
        (Field(N_("Pegs"), Kind.COUNT, checks=(_even,)), 3, "Pegs has to be even."),
        (Field(N_("Name")), "a" * (LONGEST_LINE + 1), "Name is 401 characters long: at most 400 are kept."),
        (Field(N_("Remarks"), Kind.LINES), "a" * (LONGEST_TEXT + 1), "at most 20000 are kept."),
        (Field(N_("Name")), "a\x00b", "Name holds a control character: type it without."),
        (Field(N_("Name")), "a\x1b[2J", "Name holds a control character: type it without."),
        (Field(N_("Name")), "a\x7f", "Name holds a control character: type it without."),
        (Field(N_("Name")), "a\ud800", "Name holds half a character: type it anew."),
    ],
)
def test_a_value_that_cant_be_is_refused_in_words(field: Field, value: object, says: str) -> None:
    with pytest.raises(Typed) as refused:
        field.check("it", value)
    assert str(refused.value).endswith(says)
    assert refused.value.field == "it"


@pytest.mark.parametrize("value", ["a" * LONGEST_LINE, "Søren Ångström 弦 𝄢", "= 1 + 1", "<b>", "a\tb"])
def test_a_plain_line_of_any_script_is_kept(value: str) -> None:
    Field(N_("Name")).check("name", value)


def test_a_refusal_in_a_row_names_the_row() -> None:
    form = Intake(name="Cello", state="new", costs=(Cost(what="bridge", pegs=4), Cost(what="pegs", pegs=5)))
    with pytest.raises(Typed) as refused:
        check_inputs(form)
    assert refused.value.field == "costs[1].pegs"
    assert str(refused.value) == "Pegs has to be even."


def test_the_first_refusal_is_in_the_order_of_the_form() -> None:
    with pytest.raises(Typed) as refused:
        check_inputs(Intake(name="", state="old"))
    assert refused.value.field == "name"


def test_the_word_of_a_code() -> None:
    assert STATES.choice_word("worn") == "worn"
    assert STATES.choice_word("unheard") == "unheard"
    assert STATES.choice_word(None) == ""
