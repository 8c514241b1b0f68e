"""What is asked when something goes out on trial, comes back, is kept, or its deposit moves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from shopledger.acts.conditions import MarkRow
from shopledger.acts.declare import Form
from shopledger.model import Trial
from shopledger.model.money import PAID_BY
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.store.prepared import AnyPicture

REPORT = N_("Condition report with photographs")
DEPOSIT = N_("Deposit")
LINES = Field(N_("Lines"), help=N_("Their numbers, such as 1, 3; empty for all that are still out."))
METHOD = Field(N_("Paid by"), Kind.CHOICE, choices=PAID_BY, under=DEPOSIT)
CLEARED = Field(
    N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."), under=DEPOSIT
)
REPORT_LINE = Field(
    N_("Report on line"),
    Kind.COUNT,
    help=N_("Counted from 1; empty where there is only one instrument."),
    under=REPORT,
)
SAID_OF_LINE = Field(
    N_("That is said of line"),
    Kind.COUNT,
    help=N_(
        "The one that the words, marks and photographs are about; empty where there is only one instrument."
    ),
)
PICTURES = Field(N_("Photographs"), Kind.PICTURES, under=REPORT)
MARKS = Field(
    N_("Condition by part"),
    Kind.ROWS,
    of=MarkRow,
    help=N_("What is marked here leaves a condition report; a pin is set on a photograph added above."),
    pins="pictures",
    under=REPORT,
)


@dataclass(frozen=True, kw_only=True)
class LendRow:
    """One thing lent: an instrument of the ledger, or a thing in words."""

    instrument_id: int | None = ask(Field(N_("Instrument"), Kind.INSTRUMENT))
    what: str = ask(
        Field(N_("Or what"), help=N_("Of a thing that has no number of its own, such as a case.")), default=""
    )
    value: Money | None = ask(Field(N_("Value"), Kind.MONEY, required=True))
    condition_out: str = ask(Field(N_("Condition going out"), Kind.LINES), default="")


@dataclass(frozen=True, kw_only=True)
class LendOnTrial(Form):
    """Things that a player takes along to try, until a day."""

    trial: Mapping[str, Any] = ask(
        Field(
            N_("Trial"),
            Kind.GROUP,
            of=Trial,
            first=("person_id", "due_on", "signed_on", "identity_seen", "insurance"),
        )
    )
    lines: tuple[LendRow, ...] = ask(Field(N_("What goes out"), Kind.ROWS, required=True, of=LendRow))
    deposit: Money | None = ask(Field(N_("Deposit"), Kind.MONEY))
    method: str = ask(METHOD, default="transfer")
    reference: str = ask(Field(N_("Reference"), under=DEPOSIT), default="")
    cleared: bool = ask(CLEARED)
    report_line: int | None = ask(REPORT_LINE)
    pictures: tuple[AnyPicture, ...] = ask(PICTURES)
    marks: tuple[MarkRow, ...] = ask(MARKS)


@dataclass(frozen=True, kw_only=True)
class OfTrial(Form):
    """Something that is about a trial as a whole."""

    trial_id: int


@dataclass(frozen=True, kw_only=True)
class OfTrialLines(OfTrial):
    """Something that is about lines of a trial."""

    lines: str = ask(LINES, default="")


@dataclass(frozen=True, kw_only=True)
class TakeTrialBack(OfTrialLines):
    """Things that come back from a trial, and what is seen of them."""

    condition_back: str = ask(
        Field(N_("Condition coming back"), Kind.LINES, help=N_("New damage is noted here, or marked below.")),
        default="",
    )
    report_line: int | None = ask(SAID_OF_LINE)
    pictures: tuple[AnyPicture, ...] = ask(PICTURES)
    marks: tuple[MarkRow, ...] = ask(MARKS)


@dataclass(frozen=True, kw_only=True)
class LoseThing(OfTrialLines):
    """A thing without a number of its own that is lost while it is out."""

    what_happened: str = ask(Field(N_("What happened"), Kind.LINES, required=True))


@dataclass(frozen=True, kw_only=True)
class ExtendTrial(OfTrial):
    """A later end, agreed with the player."""

    due_on: date = ask(Field(N_("Back by"), Kind.DAY, required=True))
    agreed_by: str = ask(Field(N_("Agreed with"), required=True, help=N_("Who, and how.")))


@dataclass(frozen=True, kw_only=True)
class SignTrial(OfTrial):
    """The trial agreement is signed by both."""

    signed_on: date = ask(Field(N_("Signed by both on"), Kind.DAY, required=True))


@dataclass(frozen=True, kw_only=True)
class TakeTrialDeposit(OfTrial):
    """A deposit of the player, held while things are out."""

    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    method: str = ask(Field(N_("Paid by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer")
    reference: str = ask(Field(N_("Reference")), default="")
    cleared: bool = ask(
        Field(N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."))
    )


@dataclass(frozen=True, kw_only=True)
class GiveTrialDepositBack(OfTrial):
    """The player gets the deposit back."""

    method: str = ask(
        Field(N_("Given back by"), Kind.CHOICE, required=True, choices=PAID_BY), default="transfer"
    )


@dataclass(frozen=True, kw_only=True)
class ForfeitTrialDeposit(OfTrial):
    """What of the deposit is kept for one thing of the trial, as agreed with its owner."""

    line: int = ask(
        Field(N_("For line"), Kind.COUNT, required=True, help=N_("Which line it is kept for.")), default=1
    )
    amount: Money = ask(Field(N_("Amount"), Kind.MONEY, required=True))
    why: str = ask(
        Field(N_("Why"), Kind.LINES, required=True, help=N_("And where the player agreed to it in writing."))
    )
