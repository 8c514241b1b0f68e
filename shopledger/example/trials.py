"""The example's trials: a bow kept and a new scratch, a chip paid for, one that is overdue, one that is under way."""

from __future__ import annotations

from fractions import Fraction

from shopledger.acts.conditions import MarkRow
from shopledger.acts.selling_forms import SellLine
from shopledger.acts.trial_forms import LendRow
from shopledger.example.pictures import draw
from shopledger.example.telling import Teller, Thread, day, eur


def a_bow_is_kept(teller: Teller) -> Thread:
    """An amateur tries a cello and a bow: a week more, a letter, the bow is kept, the cello has a new scratch."""
    yield day("2026-07-07")
    cello, bow = teller.things["radek-cello"], teller.things["own-bow"]
    trial = teller.do(
        "lend_on_trial",
        trial={"person_id": teller.who("piran"), "due_on": day("2026-07-21"), "identity_seen": "passport",
               "insurance": "Lantern Mutual, instruments in the home; the policy was seen",
               "at_place": "At home and in the Saltmere amateur orchestra."},
        lines=(LendRow(instrument_id=cello, value=eur("18500.00"), condition_out="As on the report."),
               LendRow(instrument_id=bow, value=eur("780.00"), condition_out="New hair."),
               LendRow(what="canvas cover", value=eur("60.00"))),
        report_line=1, pictures=(draw("cello", "honey", 5),),
        marks=(MarkRow(part="back", term="scratch", severity="slight", note="Old, at the lower bout."),),
    ).id  # fmt: skip
    teller.do("take_trial_deposit", trial_id=trial, amount=eur("200.00"))
    yield day("2026-07-08")
    teller.do("sign_trial", trial_id=trial, signed_on=day("2026-07-07"))
    teller.do("clear_trial_deposit", trial_id=trial)
    yield day("2026-07-20")
    teller.do("extend_trial", trial_id=trial, due_on=day("2026-07-28"), agreed_by="Piran Thole, by telephone")
    yield day("2026-07-30")
    teller.do("remind_of_trial", trial_id=trial)
    yield day("2026-08-03")
    teller.do(
        "take_trial_back", trial_id=trial, lines="1", report_line=1,
        condition_back="A new scratch on the top, in the varnish only; Mr Thole saw it with us.",
        pictures=(draw("cello", "honey", 6),),
        marks=(MarkRow(part="back", term="scratch", severity="slight", note="Old, at the lower bout."),
               MarkRow(part="top", term="scratch", severity="slight", note="New, treble C bout.",
                       picture=1, x=6200, y=5200)),
    )  # fmt: skip
    teller.do("lose_thing", trial_id=trial, lines="3", what_happened="Left on the ferry, and not handed in.")
    teller.do("decide_to_buy", trial_id=trial, lines="2")
    sale = teller.do(
        "sell_kept", buyer_id=teller.who("piran"), tax_scheme="sales_tax", tax_rate=Fraction(8, 100),
        lines=(SellLine(kind="own", instrument_id=bow, price=eur("780.00")),),
    ).id  # fmt: skip
    teller.pay(sale, method="card")
    teller.do("hand_over", instrument_id=bow, handed_to="Piran Thole")


def a_chip_is_paid_for(teller: Teller) -> Thread:
    """A student tries a piccolo cello; of the deposit something is kept for a chip, as agreed, the rest goes back."""
    yield day("2026-03-03")
    cello = teller.things["own-picc"]
    trial = teller.do(
        "lend_on_trial",
        trial={"person_id": teller.who("silvan"), "due_on": day("2026-03-24"), "signed_on": day("2026-03-03"),
               "identity_seen": "student card", "insured_by": "shop", "risk": "player"},
        lines=(LendRow(instrument_id=cello, value=eur("10800.00"), condition_out="As new."),),
        deposit=eur("300.00"), method="cash", cleared=True,
    ).id  # fmt: skip
    yield day("2026-03-23")
    teller.do(
        "take_trial_back", trial_id=trial,
        condition_back="A chip at the edge of the lower treble bout, touched up since.",
    )  # fmt: skip
    teller.do("forfeit_trial_deposit", trial_id=trial, line=1, amount=eur("60.00"),
              why="For the chip; Mr Rookley signed for it on 23 March.")  # fmt: skip
    teller.do("give_trial_deposit_back", trial_id=trial, method="cash")


def not_back_yet(teller: Teller) -> Thread:
    """A tenor viol player keeps a viol longer than agreed, and was written to."""
    yield day("2026-10-30")
    viol = teller.things["own-bass"]
    trial = teller.do(
        "lend_on_trial",
        trial={"person_id": teller.who("tilda"), "due_on": day("2026-11-20"), "signed_on": day("2026-10-30"),
               "insurance": "Her own, seen"},
        lines=(LendRow(instrument_id=viol, value=eur("13900.00"), condition_out="As new."),),
    ).id  # fmt: skip
    yield day("2026-11-23")
    teller.do("remind_of_trial", trial_id=trial)


def out_until_next_week(teller: Teller) -> Thread:
    """A treble viol is out with a beginner until the week after the story."""
    yield day("2026-11-17")
    viol = teller.things["linnet-treble"]
    teller.do(
        "lend_on_trial",
        trial={"person_id": teller.who("hester"), "due_on": day("2026-11-30"), "signed_on": day("2026-11-17"),
               "insured_by": "shop"},
        lines=(LendRow(instrument_id=viol, value=eur("3300.00"), condition_out="Sound."),
               LendRow(what="bow for a treble viol, no number", value=eur("150.00"))),
        deposit=eur("100.00"), method="cash", cleared=True,
    )  # fmt: skip


THREADS = (a_bow_is_kept, a_chip_is_paid_for, not_back_yet, out_until_next_week)
