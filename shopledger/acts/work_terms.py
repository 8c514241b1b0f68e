"""The shop's own terms of work: hourly rate, what of work is taxed and how, what may exceed an approval, how long an
estimate is valid.

Estimates and bills that were made before stay as they were: they hold what they were reckoned by.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from shopledger.acts.columns import in_column
from shopledger.acts.declare import Act, Form, Outcome
from shopledger.model import Shop, field_of
from shopledger.quantities.errors import Typed
from shopledger.quantities.fields import ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.queries.shapes import Subject
from shopledger.store.unit import Reading, Writing


@dataclass(frozen=True, kw_only=True)
class SetWorkTerms(Form):
    """The terms of work as they are to stand from now on."""

    work_rate: Money | None = ask(field_of(Shop.work_rate))
    estimate_days: int = ask(field_of(Shop.estimate_days), default=30)
    allowed_excess: Fraction = ask(field_of(Shop.allowed_excess), default=Fraction(0))
    work_tax_basis: str = ask(field_of(Shop.work_tax_basis), default="item")
    tax_on_labour: bool = ask(field_of(Shop.tax_on_labour))
    tax_on_parts: bool = ask(field_of(Shop.tax_on_parts))
    tax_on_services: bool = ask(field_of(Shop.tax_on_services))


TERMS = tuple(name for name in SetWorkTerms.__annotations__)
"""The names of the terms, as the shop's record and the form have them."""


def run_set_work_terms(writing: Writing, form: SetWorkTerms) -> Outcome:
    """Write the terms anew."""
    if not 0 <= form.allowed_excess <= 1:
        raise Typed(
            N_("Work may exceed what was approved by 0 to 100 per cent: type a rate between them."),
            field="allowed_excess",
        )
    shop = writing.shop()
    for name in TERMS:
        column: Any = getattr(Shop, name)
        setattr(shop, name, in_column(name, field_of(column), getattr(form, name), writing.currency))
    writing.session.flush()
    return Outcome(Subject.SHOP, 1, frozenset({Subject.SHOP}))


def prefill_set_work_terms(reading: Reading, _id: int) -> Mapping[str, Any]:
    """Give the terms as they stand."""
    shop = reading.shop()
    found: dict[str, Any] = {name: getattr(shop, name) for name in TERMS}
    if shop.work_rate is not None:
        found["work_rate"] = reading.money(shop.work_rate)
    return found


SET_WORK_TERMS = Act(
    name="set_work_terms",
    text=N_("Set the terms of work"),
    subject=Subject.SHOP,
    form=SetWorkTerms,
    run=run_set_work_terms,
    prefill=prefill_set_work_terms,
    help=N_(
        "Hourly rate, tax on work, what may exceed an approval. Estimates made before stay as they were."
    ),
)
ACTS = (SET_WORK_TERMS,)
