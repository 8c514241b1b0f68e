"""A case on protected materials from its written form: which keys there are and how they become frozen facts."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from shopledger.quantities.errors import Typed
from shopledger.quantities.words import N_
from shopledger.rules.case_form import Bounds, Form, ObjectWritten, one_of
from shopledger.rules.materials_terms import Act, MaterialPart, MaterialsCase
from shopledger.rules.places import known_place

CASE_KEYS = ("on", "act", "parts", "from", "to", "re_export")
PART_KEYS = (
    "component",
    "species",
    "certain",
    "finished",
    "made_on",
    "taken_before",
    "imported_on",
    "mass_g",
    "evidence",
)
MASS = Bounds(0.0, 1_000_000.0, open_below=True)
"""In grams: a part weighs something, and less than a tonne."""


def case_of(written: object) -> MaterialsCase:
    """Give the case that a JSON object describes; whether its facts fit together is checked when it is judged.

    Raises:  Typed with the path of the field, for anything that is not exactly the written form.
    """
    form = Form(written, "", CASE_KEYS)
    on = form.day("on")
    if on is None:
        raise form.missing("on", '"2026-03-05"')
    parts = form.items("parts")
    if parts is None:
        raise form.missing("parts", '[{"component": "bow stick", "species": "Paubrasilia echinata"}]')
    if not parts:
        raise Typed(N_("There is no part. Write at least one."), field="parts")
    return MaterialsCase(
        on=on,
        act=_act(form),
        parts=tuple(_part(each, path) for path, each in parts),
        from_place=_place(form, "from"),
        to_place=_place(form, "to"),
        re_export=form.flag("re_export"),
    )


def _act(form: Form) -> Act:
    word = form.text("act")
    if word is None:
        raise form.missing("act", '"sale_abroad"')
    return one_of(word, Act, form.at("act"))


def _part(written: object, path: str) -> MaterialPart:
    """Give one part; a species that is null is one that isn't known, while one that is left out is forgotten."""
    form = Form(written, path, PART_KEYS)
    component = form.text("component")
    if component is None or not component.strip():
        raise form.missing("component", '"bow stick"')
    if isinstance(written, ObjectWritten) and "species" not in written:
        raise form.missing("species", '"Paubrasilia echinata", or null where it isn\'t known')
    return MaterialPart(
        component=component,
        species=form.text("species") or "",
        certain=form.flag("certain") or False,
        finished=form.flag("finished"),
        made_on=_day(form, "made_on"),
        taken_before=_day(form, "taken_before"),
        imported_on=_day(form, "imported_on"),
        mass_g=_mass(form),
        evidence=form.text("evidence") or "",
    )


def _day(form: Form, key: str) -> date | None:
    """Give a day; where only a year is written, the refusal says how a year becomes one."""
    text = form.text(key)
    if text is not None and re.fullmatch(r"[0-9]{4}", text):
        raise Typed(
            N_("“{year}” is a year. Where no more is known, write its last day, {day}."),
            field=form.at(key),
            year=text,
            day=f"{text}-12-31",
        )
    return form.day(key)


def _mass(form: Form) -> Fraction | None:
    """Give a mass exactly as its shortest decimal, so that masses add up without a residue."""
    mass = form.number("mass_g", MASS)
    return None if mass is None else Fraction(repr(mass))


def _place(form: Form, key: str) -> str:
    """Give a place of ISO 3166, "" where it is left out."""
    code = form.text(key)
    return "" if code is None else known_place(code, form.at(key))
