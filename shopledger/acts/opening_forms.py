"""What is asked when a job is opened or changed: at the counter in one form, on what is here in a shorter one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from shopledger.acts.conditions import MarkRow
from shopledger.acts.declare import Form
from shopledger.acts.owning import OwnerRow
from shopledger.model import Instrument, Job, Person
from shopledger.model.jobs import BILL_TO
from shopledger.model.money import PAID_BY
from shopledger.quantities.fields import Field, Kind, ask
from shopledger.quantities.money import Money
from shopledger.quantities.words import N_
from shopledger.store.prepared import AnyPicture

WORK_TERMS = N_("Who pays, warranty, whose it is")
HEARS = Field(N_("What the client hears and wants"), Kind.LINES, required=True)
SEES = Field(N_("What the maker sees"), Kind.LINES)
PROMISED = Field(N_("Promised for"), Kind.DAY)
DEPOSIT = Field(N_("Deposit"), Kind.MONEY)
METHOD = Field(N_("Paid by"), Kind.CHOICE, choices=PAID_BY)
CLEARED = Field(N_("Cleared already"), Kind.YES_NO, help=N_("Cash, or a transfer that has arrived."))
PICTURES = Field(N_("Photographs"), Kind.PICTURES)
MARKS = Field(
    N_("Condition by part"),
    Kind.ROWS,
    of=MarkRow,
    help=N_("What is marked here leaves a condition report; a pin is set on a photograph added above."),
    pins="pictures",
)
EARLIER = Field(
    N_("Earlier job, under warranty"), help=N_("Its claim number, such as 26-0014-7."), under=WORK_TERMS
)


@dataclass(frozen=True, kw_only=True)
class OpenJob(Form):
    """What a client leaves to be worked on: who, what, with what, what is wanted, until when."""

    client_id: int | None = ask(
        Field(
            N_("Client"),
            Kind.PERSON,
            help=N_("Found by name or telephone; a new one is written below."),
            new_in="client",
        )
    )
    client: Mapping[str, Any] = ask(
        Field(N_("New client"), Kind.GROUP, of=Person, first=("name", "phone", "email"))
    )
    instrument_id: int | None = ask(
        Field(
            N_("Known instrument"),
            Kind.INSTRUMENT,
            help=N_("Found by number, maker or serial; a new one is described below."),
            new_in="instrument",
        )
    )
    instrument: Mapping[str, Any] = ask(
        Field(N_("New instrument"), Kind.GROUP, of=Instrument, first=("kind", "maker", "serial"))
    )
    came_with: str = ask(
        Field(N_("What came with it"), Kind.LINES, help=N_("Case, bow, rest, covers: one a line.")),
        default="",
    )
    hears: str = ask(HEARS)
    sees: str = ask(SEES, default="")
    promised_on: date | None = ask(PROMISED)
    insured_value: Money | None = ask(Field(N_("Value to insure"), Kind.MONEY))
    deposit: Money | None = ask(DEPOSIT)
    method: str = ask(METHOD, default="cash")
    cleared: bool = ask(CLEARED)
    pictures: tuple[AnyPicture, ...] = ask(PICTURES)
    marks: tuple[MarkRow, ...] = ask(MARKS)
    bill_to: str = ask(
        Field(N_("Is paid for by"), Kind.CHOICE, choices=BILL_TO, under=WORK_TERMS), default="client"
    )
    earlier_claim: str = ask(EARLIER, default="")
    owners: tuple[OwnerRow, ...] = ask(
        Field(
            N_("Owners"), Kind.ROWS, of=OwnerRow, help=N_("Empty: the client, or as known."), under=WORK_TERMS
        )
    )
    identity_seen: str = ask(
        Field(
            N_("Identity seen"), help=N_("Which document, not its number."), personal=True, under=WORK_TERMS
        ),
        default="",
    )


@dataclass(frozen=True, kw_only=True)
class OpenJobHere(Form):
    """Work on an instrument that is in the shop: consigned, the shop's own, or left for another reason."""

    instrument_id: int = ask(Field(N_("Instrument"), Kind.INSTRUMENT, required=True))
    client_id: int = ask(Field(N_("Client"), Kind.PERSON, required=True))
    bill_to: str = ask(
        Field(N_("Is paid for by"), Kind.CHOICE, required=True, choices=BILL_TO), default="client"
    )
    hears: str = ask(Field(N_("What is wanted"), Kind.LINES, required=True))
    sees: str = ask(SEES, default="")
    promised_on: date | None = ask(PROMISED)
    deposit: Money | None = ask(DEPOSIT)
    method: str = ask(METHOD, default="cash")
    cleared: bool = ask(CLEARED)
    pictures: tuple[AnyPicture, ...] = ask(PICTURES)
    marks: tuple[MarkRow, ...] = ask(MARKS)
    earlier_claim: str = ask(EARLIER, default="")


@dataclass(frozen=True, kw_only=True)
class ChangeJob(Form):
    """What is known of a job, written anew; what was issued before stays as it was."""

    job_id: int
    job: Mapping[str, Any] = ask(Field(N_("Job"), Kind.GROUP, of=Job))
    earlier_claim: str = ask(EARLIER, default="")
