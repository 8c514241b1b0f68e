"""How the example's agreements go on: renewed, changed, withdrawn, expired, given up, lost; without any sale."""

from __future__ import annotations

from shopledger.acts.owning import OwnerRow
from shopledger.example.agreed import Agreed
from shopledger.example.telling import Teller, Thread, day, eur


def agree(teller: Teller, agreed: Agreed) -> Thread:
    """Let terms be agreed."""
    yield day(agreed.on)
    teller.do(
        "agree_terms",
        instrument_id=teller.things[agreed.thing],
        terms=agreed.terms(),
        signed_by=agreed.signed_by,
    )


def withdrawn(teller: Teller) -> Thread:
    """The owner of a violin takes it back before its time, and pays the charge that was agreed."""
    yield day("2025-05-27")
    violin = teller.things["wick-violin"]
    teller.do(
        "end_agreement", instrument_id=violin, how="withdrawn", why="He will play it himself after all."
    )
    teller.do("charge_owner", instrument_id=violin, kind="withdrawal")
    teller.do("return_to_owner", instrument_id=violin, handed_to="Dunstan Wick", condition_out="As it came.")
    yield day("2025-06-04")
    teller.do("take_owners_payment", person_id=teller.who("dunstan"), amount=eur("120.00"), method="cash")


def owner_changed(teller: Teller) -> Thread:
    """A cello changes owner privately within its term; commission is owed, and the new owner agrees terms."""
    yield day("2025-10-14")
    cello = teller.things["pupil"]
    teller.do(
        "change_owner",
        instrument_id=cello,
        owners=(OwnerRow(person_id=teller.who("mirabel")),),
        how="Bought privately from Piran Thole; bill seen.",
    )
    teller.do("charge_owner", instrument_id=cello, kind="private_sale", proved_price=eur("6900.00"))
    yield day("2025-10-21")
    teller.do(
        "agree_terms",
        instrument_id=cello,
        terms=Agreed(
            thing="pupil", on="2025-10-21", ends="2027-10-20", asking="7400.00", rate="9/50"
        ).terms(),
        signed_by="Mirabel Tern",
    )
    yield day("2025-11-18")
    teller.do(
        "take_owners_payment", person_id=teller.who("piran"), amount=eur("800.00"), reference="first half"
    )


def expired(teller: Teller) -> Thread:
    """A bow finds nobody within its year and goes home."""
    yield day("2026-07-28")
    bow = teller.things["violin-bow"]
    teller.do("end_agreement", instrument_id=bow, how="expired")
    yield day("2026-08-04")
    teller.do("return_to_owner", instrument_id=bow, handed_to="Nerys Halloway", condition_out="As it came.")


def given_up(teller: Teller) -> Thread:
    """The shop ends an agreement whose instrument is not what its label says; it is fetched, and later comes again."""
    yield day("2026-02-17")
    violin = teller.things["ossian-violin"]
    teller.do(
        "end_agreement",
        instrument_id=violin,
        how="given_up",
        why="The label is younger than the year on it.",
    )
    teller.do("return_to_owner", instrument_id=violin, handed_to="Ossian Drift", condition_out="As it came.")
    yield day("2026-10-20")
    teller.do(
        "take_in_again",
        instrument_id=violin,
        instrument={},
        stay={"reason": "repair", "insured_value": eur("3000.00"), "condition": "Open seam at the chin."},
    )


def returned_unagreed(teller: Teller) -> Thread:
    """A viol with open cracks: nothing was agreed, and it goes back to the estate."""
    yield day("2025-06-17")
    teller.do(
        "return_to_owner",
        instrument_id=teller.things["ostrand-bass"],
        handed_to="Lorcan Vane",
        condition_out="As it came, two open cracks.",
        why="The repair would cost more than it is worth.",
    )


def renewed(teller: Teller) -> Thread:
    """Two agreements are renewed; the renewal of one is not signed yet. A player's deposit holds that viol."""
    yield day("2026-04-14")
    tenor = teller.things["ostrand-tenor"]
    teller.do("renew", instrument_id=tenor, ends_on=day("2027-04-21"))
    yield day("2026-08-25")
    cello = teller.things["radek-cello"]
    teller.do("renew", instrument_id=cello, ends_on=day("2027-09-01"), signed_by="Radek Morrow")
    yield day("2026-09-15")
    teller.do("change_price", instrument_id=cello, asking=eur("18500.00"), why="A year without an offer.")
    yield day("2026-11-10")
    teller.do(
        "hold",
        instrument_id=tenor,
        person_id=teller.who("tilda"),
        until=day("2026-12-04"),
        deposit=eur("400.00"),
        cleared=True,
    )


def changed(teller: Teller) -> Thread:
    """Addenda: one signed on the spot, one still waiting; a price that needed the owner's word."""
    yield day("2026-03-24")
    teller.do(
        "add_addendum",
        instrument_id=teller.things["strand-picc"],
        terms={"asking": eur("8400.00"), "discount_borne_by": "owner"},
        signed_by="Célestine Oar",
    )
    yield day("2026-06-09")
    teller.do(
        "change_price",
        instrument_id=teller.things["spar"],
        asking=eur("31000.00"),
        why="After the sale that came back.",
        consent_by="Gwendolen Spar",
        consent_how="by letter",
        consent_on=day("2026-06-05"),
    )
    yield day("2026-10-27")
    teller.do(
        "add_addendum",
        instrument_id=teller.things["viol-bow"],
        terms={"asking": eur("980.00"), "ends_on": day("2027-06-30")},
    )


def forfeited(teller: Teller) -> Thread:
    """A player lets a hold run out, and the deposit is shared as agreed."""
    yield day("2026-05-12")
    viol = teller.things["linnet-treble"]
    teller.do(
        "hold",
        instrument_id=viol,
        person_id=teller.who("hester"),
        until=day("2026-06-12"),
        deposit=eur("150.00"),
        method="cash",
        cleared=True,
    )
    yield day("2026-06-23")
    teller.do("end_hold", instrument_id=viol, why="Not heard of again.", deposit="forfeit")
    teller.do("change_price", instrument_id=viol, asking=eur("3300.00"), why="As the agreement allows.")


def lost(teller: Teller) -> Thread:
    """A burst pipe ruins a viol; the insurer pays, and its owner gets the agreed value."""
    yield day("2026-01-13")
    viol = teller.things["lost"]
    teller.do(
        "report_loss",
        instrument_id=viol,
        what_happened="A pipe burst over the north wall at night; the case stood in water.",
        reported_to="Lantern Mutual, claim 7-214",
        agreed_value=eur("5600.00"),
        excess=eur("250.00"),
    )
    yield day("2026-02-24")
    teller.do(
        "claim_paid",
        instrument_id=viol,
        person_id=teller.who("insurer"),
        amount=eur("5350.00"),
        reference="7-214",
    )
    yield day("2026-02-26")
    teller.do("settle_loss", instrument_id=viol)
    teller.pay_owner("tilda", reference="loss of the tenor viol")


def other_prices(teller: Teller) -> Thread:
    """The shop's own: a price that came down, and money that the maker takes out."""
    yield day("2025-10-28")
    teller.do("change_price", instrument_id=teller.things["own-picc"], asking=eur("10800.00"), why="Autumn.")
    yield day("2026-04-07")
    teller.do(
        "change_price",
        instrument_id=teller.things["own-bass"],
        asking=eur("13900.00"),
        why="To be shown at Easter.",
    )


THREADS = (
    withdrawn, owner_changed, expired, given_up, returned_unagreed, renewed, changed, forfeited, lost, other_prices,
)  # fmt: skip
