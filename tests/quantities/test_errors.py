"""The family of errors: a sentence as a key, values that are shown in the reader's manners."""

from __future__ import annotations

import pickle
from datetime import date
from fractions import Fraction

import pytest

from shopledger.quantities.errors import Bug, ChangedMeanwhile, LedgerError, NotFound, Refused, Trouble, Typed
from shopledger.quantities.lengths import read_length
from shopledger.quantities.manners import Manners
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

GERMAN = Manners(language="de", decimal=",", group=".", day_pattern="d.M.y", money_suffix="\u00a0€")


@pytest.mark.parametrize(
    ("kind", "built_in"),
    [
        (Typed, ValueError),
        (Refused, RuntimeError),
        (NotFound, LookupError),
        (ChangedMeanwhile, RuntimeError),
        (Trouble, OSError),
        (Bug, AssertionError),
    ],
)
def test_each_kind_is_of_the_family_and_of_a_built_in_kind(
    kind: type[LedgerError], built_in: type[Exception]
) -> None:
    error = kind(N_("{thing} is wrong."), thing="The rib", field="ribs")
    assert isinstance(error, LedgerError)
    assert isinstance(error, built_in)
    assert str(error) == "The rib is wrong."
    assert error.field == "ribs"
    assert error.message == "{thing} is wrong."


def test_the_same_error_is_told_in_the_manners_of_its_reader() -> None:
    error = Refused(
        N_("{price} for {instrument} ({body}) at {rate} until {day}."),
        price=Money(1234550, "EUR"),
        instrument="a cello",
        body=read_length("29 1/2 in"),
        rate=Fraction(33, 400),
        day=date(2026, 3, 4),
    )
    assert str(error) == "EUR 12,345.50 for a cello (29 1/2 in) at 8.25% until 4 Mar 2026."
    assert error.sentence(GERMAN) == "12.345,50\u00a0€ for a cello (29 1/2 in) at 8,25% until 4.3.2026."


def test_braces_in_a_value_are_shown_and_not_filled_in() -> None:
    assert str(Refused(N_("{name} is unknown."), name="{price} {0} {x!r}")) == "{price} {0} {x!r} is unknown."


def test_a_field_can_be_named_in_the_sentence() -> None:
    assert str(Typed(N_("{field}: write a length."), field="neck")) == "neck: write a length."


def test_values_stay_values() -> None:
    price = Money(100, "USD")
    assert Refused(N_("{price} is too little."), price=price).values == {"price": price}


def test_an_error_survives_the_way_to_another_process() -> None:
    error = pickle.loads(pickle.dumps(Typed(N_("{text} is no length."), field="neck", text="abc")))
    assert isinstance(error, Typed)
    assert (str(error), error.field) == ("abc is no length.", "neck")
