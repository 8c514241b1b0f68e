"""People: one record for whoever is owner, buyer, player, referrer, maker, dealer or insurer."""

from __future__ import annotations

from sqlalchemy.orm import Mapped

from shopledger.model.record import Record, key, shown
from shopledger.quantities.fields import Field, Kind
from shopledger.quantities.words import N_
from shopledger.rules.places import check_place

PERSON_KINDS = (("person", N_("a person")), ("firm", N_("a firm")), ("estate", N_("an estate")))
RELATIONS = (
    ("none", N_("none")),
    ("shop", N_("the shop itself")),
    ("family", N_("family of the shop")),
    ("staff", N_("staff of the shop")),
)


class Person(Record):
    """Whoever the shop deals with; what they are to it follows from what they did."""

    __tablename__ = "person"

    id: Mapped[int] = key()
    number: Mapped[str] = shown(Field(N_("Number"), in_table=True, searchable=True, given=True), unique=True)
    name: Mapped[str] = shown(Field(N_("Name"), required=True, in_table=True, searchable=True, personal=True))
    kind: Mapped[str] = shown(Field(N_("Is"), Kind.CHOICE, choices=PERSON_KINDS), default="person")
    relation: Mapped[str] = shown(
        Field(
            N_("Tie to the shop"),
            Kind.CHOICE,
            choices=RELATIONS,
            help=N_("Shop, family and staff may buy consigned stock only with the owner's written consent."),
        ),
        default="none",
    )
    address: Mapped[str] = shown(Field(N_("Address"), Kind.LINES, searchable=True, personal=True))
    country: Mapped[str] = shown(
        Field(
            N_("Country"),
            help=N_("Its two letters, such as DE: what is sold to another country may need papers."),
            checks=(check_place,),
        )
    )
    phone: Mapped[str] = shown(Field(N_("Telephone"), in_table=True, searchable=True, personal=True))
    email: Mapped[str] = shown(
        Field(N_("E-mail"), in_table=True, lesser=True, searchable=True, personal=True)
    )
    plays: Mapped[str] = shown(Field(N_("Plays"), searchable=True, help=N_("What they play, and where.")))
    notes: Mapped[str] = shown(Field(N_("Notes"), Kind.LINES, searchable=True, personal=True))
