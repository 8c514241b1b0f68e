"""What is asked when a job is estimated: lines from the price list, parts, or words with their time or amount."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from shopledger.acts.declare import Form
from shopledger.model.jobs import WORK_KINDS
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_

FURTHER = N_("Rate, discount, tax, validity and note")
"""What the form folds away, since it comes from the settings or from the estimate before."""


@dataclass(frozen=True, kw_only=True)
class EstimateRow:
    """One line: from the price list, a part, or in words with its time or amount."""

    work_item_id: int | None = ask(Field(N_("From the price list"), Kind.WORK))
    goods_id: int | None = ask(Field(N_("Part"), Kind.GOODS))
    what: str = ask(Field(N_("What"), help=N_("Empty: as the price list or the part is called.")), default="")
    kind: str = ask(Field(N_("Sort"), Kind.CHOICE, required=True, choices=WORK_KINDS), default="labour")
    minutes: int | None = ask(
        Field(N_("Time"), Kind.COUNT, unit=N_("min"), help=N_("At the hourly rate, where there is no price."))
    )
    minutes_high: int | None = ask(
        Field(N_("Time, at most"), Kind.COUNT, unit=N_("min"), help=N_("Where it can't be known."))
    )
    quantity: int = ask(Field(N_("Quantity"), Kind.COUNT), default=1)
    amount: Money | None = ask(
        Field(N_("Amount"), Kind.MONEY, help=N_("For all of the line; empty: by the price list or the time."))
    )
    amount_high: Money | None = ask(
        Field(N_("Amount, at most"), Kind.MONEY, help=N_("Where it can't be known."))
    )


@dataclass(frozen=True, kw_only=True)
class EstimateJob(Form):
    """What the work on a job will come to."""

    job_id: int
    lines: tuple[EstimateRow, ...] = ask(Field(N_("Lines"), Kind.ROWS, required=True, of=EstimateRow))
    hourly_rate: Money = ask(Field(N_("Hourly rate"), Kind.MONEY, required=True, under=FURTHER))
    discount: Money | None = ask(Field(N_("Discount"), Kind.MONEY, under=FURTHER))
    tax_rate: Fraction | None = ask(
        Field(
            N_("Rate of tax"),
            Kind.RATE,
            help=N_("Empty for none. Which lines it falls on is a setting of the shop; places differ: ask."),
            under=FURTHER,
        )
    )
    valid_until: date | None = ask(
        Field(N_("Valid until"), Kind.DAY, help=N_("Empty: as the settings say."), under=FURTHER)
    )
    note: str = ask(Field(N_("Further words"), Kind.LINES, under=FURTHER), default="")
