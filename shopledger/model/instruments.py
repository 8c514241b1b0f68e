"""Instruments and bows: what they are, how they measure, who owns them."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, hidden, key, link, shown
from shopledger.model.types import Whole
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_

INSTRUMENT_KINDS = (
    ("violin", N_("violin")),
    ("viola", N_("viola")),
    ("cello", N_("cello")),
    ("piccolo_cello", N_("piccolo cello")),
    ("viola_da_gamba", N_("viola da gamba")),
    ("double_bass", N_("double bass")),
    ("bow", N_("bow")),
    ("case", N_("case")),
    ("other", N_("other")),
)
STANDINGS = (
    ("made_by", N_("made by")),
    ("attributed_to", N_("attributed to")),
    ("workshop_of", N_("workshop of")),
    ("labelled", N_("labelled")),
    ("unknown", N_("maker unknown")),
)


class Instrument(Record):
    """An instrument or a bow; its number stays with it through all its stays."""

    __tablename__ = "instrument"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Number"), in_table=True, searchable=True, given=True), unique=True)
    kind: Mapped[str] = shown(
        Field(
            N_("Kind"), Kind.CHOICE, required=True, in_table=True, searchable=True, choices=INSTRUMENT_KINDS
        )
    )
    maker: Mapped[str] = shown(Field(N_("Maker"), in_table=True, searchable=True))
    standing: Mapped[str] = shown(
        Field(
            N_("Standing of the maker's name"),
            Kind.CHOICE,
            choices=STANDINGS,
            help=N_("A label is no proof: say how sure the name is."),
        ),
        default="unknown",
    )
    standing_by: Mapped[str] = shown(Field(N_("Said by"), help=N_("Who says who made it.")))
    standing_evidence: Mapped[str] = shown(
        Field(
            N_("On what evidence"),
            Kind.LINES,
            help=N_("Certificate, bill, label, tree-ring dating, opinion."),
        )
    )
    made_when: Mapped[str] = shown(
        Field(N_("Made"), in_table=True, lesser=True, searchable=True, help=N_("Such as 1987 or about 1890."))
    )
    made_where: Mapped[str] = shown(Field(N_("Made at"), searchable=True))
    title: Mapped[str] = shown(Field(N_("Known as"), searchable=True))
    size: Mapped[str] = shown(
        Field(N_("Nominal size"), searchable=True, help=N_("Such as 4/4, 7/8 or 16 in."))
    )
    string_count: Mapped[int | None] = shown(Field(N_("Strings"), Kind.COUNT))
    serial: Mapped[str] = shown(Field(N_("Serial or brand"), searchable=True))
    label_text: Mapped[str] = shown(Field(N_("Label reads"), Kind.LINES, searchable=True))
    description: Mapped[str] = shown(Field(N_("Description"), Kind.LINES, searchable=True))
    own_work: Mapped[bool] = shown(Field(N_("Made by this shop"), Kind.YES_NO))
    notes: Mapped[str] = shown(Field(N_("Notes"), Kind.LINES, searchable=True))


class Ownership(Record):
    """Who owns an instrument from a day on; the newest counts, earlier ones stay."""

    __tablename__ = "ownership"
    __table_args__ = (Index("ix_ownership_instrument_id_since", "instrument_id", "since"),)

    id: Mapped[int] = key()
    instrument_id: Mapped[int] = link("instrument.id")
    since: Mapped[date] = shown(Field(N_("Since"), Kind.DAY, required=True))
    how: Mapped[str] = shown(Field(N_("How"), help=N_("Said at intake, bought, inherited, sold.")))


class OwnershipShare(Record):
    """One owner's share; the shares of an ownership sum to one."""

    __tablename__ = "ownership_share"
    __table_args__ = (UniqueConstraint("ownership_id", "person_id"),)

    id: Mapped[int] = key()
    ownership_id: Mapped[int] = link("ownership.id", index=True)
    person_id: Mapped[int] = shown(Field(N_("Owner"), Kind.PERSON, required=True), index=True)
    share: Mapped[Fraction] = shown(Field(N_("Share"), Kind.RATE, required=True))
    n: Mapped[int] = hidden(Whole(), "the order in which owners are named")
