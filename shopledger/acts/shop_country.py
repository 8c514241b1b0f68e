"""Where the shop is, country and part: by it the rules on protected materials are chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopledger.acts.declare import Act, Form, Outcome
from shopledger.model import Shop, field_of
from shopledger.quantities.fields import ask
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.rules.places import read_place
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class SetCountry(Form):
    """Where the shop is."""

    country: str = ask(field_of(Shop.country), default="")


def run_set_country(writing: Writing, form: SetCountry) -> Outcome:
    """Write where the shop is, by its code; nothing typed means that it isn't said."""
    writing.shop().country = read_place(form.country or "", "country")
    writing.session.flush()
    return Outcome(Subject.SHOP, 1, frozenset({Subject.SHOP, Subject.INSTRUMENT}))


def prefill_set_country(reading: Reading, _id: int) -> Mapping[str, Any]:
    """Give what is said now."""
    return {"country": reading.shop().country}


SET_COUNTRY = Act(
    name="set_country",
    text=N_("Set the shop's country"),
    subject=Subject.SHOP,
    form=SetCountry,
    run=run_set_country,
    prefill=prefill_set_country,
    help=N_(
        "By it the rules on protected materials are chosen: what crosses a border, and which law is asked."
    ),
)
ACTS = (SET_COUNTRY,)
