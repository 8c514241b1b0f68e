"""What the workshop's papers share: the job, its client and its instrument, and lines of work as they are read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from shopledger.papers.parts import PaperFacts, PartyFacts
from shopledger.quantities.words import N_, _

if TYPE_CHECKING:
    from shopledger.papers.sheet import Sheet

SORTS = {"labour": N_("work"), "part": N_("part"), "service": N_("bought-in service"), "goods": N_("goods")}
"""The marked words of a line's sort."""
UNCOLLECTED = N_(
    "Uncollected goods: how long they are kept, what notice is given and what may be done with them then differs "
    "by place and changes. This paper decides nothing of it. Ask a lawyer."
)
"""The caution of every paper about work that waits to be collected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingFacts:
    """An instrument as the workshop's papers name it: number, what people call it, who made it if that is known."""

    number: str
    name: str
    maker: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFacts(PaperFacts):
    """What every paper about a job names: its claim number, its client, its instrument."""

    claim_number: str
    client: PartyFacts
    thing: ThingFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxOnWork:
    """How the tax on work is reckoned.

    Shape:  `rate` is None where it is not known or nothing is taxed; `basis` is "item" (each line is rounded, then
            added) or "invoice" (the sum is taxed and rounded once).
    """

    rate: Fraction | None = None
    basis: str = "item"


NO_TAX_ON_WORK = TaxOnWork()


def write_grid(facts: JobFacts, sheet: Sheet, pairs: Sequence[tuple[str, str]]) -> None:
    """Write the client, the claim number and what else stands beside it, and the instrument below."""
    sheet.grid(
        [(_("Client"), sheet.party(facts.client))],
        [(_("Claim number"), sheet.strong(facts.claim_number)), *pairs],
    )
    said = ", ".join(part for part in (facts.thing.name, facts.thing.maker) if part)
    sheet.section(_("Instrument"), sheet.both(said, facts.thing.number))


def time_words(minutes: int) -> str:
    """Give a time as it is read: `1 h 30 min`, `45 min`, `2 h`.

    Units:  minutes.
    """
    hours, rest = divmod(minutes, 60)
    said = [_("{n} h").format(n=hours)] if hours else []
    if rest or not hours:
        said.append(_("{n} min").format(n=rest))
    return "\u00a0".join(said).replace(" ", "\u00a0")


def tax_label(tax: TaxOnWork, sheet: Sheet) -> str:
    """Give the words of the row of tax under the lines."""
    return _("Tax") if tax.rate is None else _("Tax, {rate}").format(rate=sheet.rate(tax.rate))


def tax_basis_words(tax: TaxOnWork) -> str:
    """Say how the tax comes about."""
    if tax.basis == "invoice":
        return _(
            "Tax is reckoned once, on the sum of what is taxed, and rounded to the nearest unit, half a unit up."
        )
    return _(
        "Tax is reckoned line by line, each rounded to the nearest unit, half a unit up; the lines are then added."
    )
