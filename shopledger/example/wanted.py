"""The example's wishes: one found and ended, one told of what fits, one for which nothing is here yet."""

from __future__ import annotations

from shopledger.acts.wanting_forms import CriterionRow
from shopledger.example.telling import Teller, Thread, day


def _must(what: str, value: str) -> CriterionRow:
    return CriterionRow(what=what, value=value, must=True)


def _like(what: str, value: str, weight: int = 1) -> CriterionRow:
    return CriterionRow(what=what, value=value, must=False, weight=weight)


def a_short_string(teller: Teller) -> Thread:
    """A cellist with small hands looks for a short string; she is told twice, and one is nothing for her."""
    yield day("2026-09-30")
    wish = teller.do(
        "note_wish",
        wish={"person_id": teller.who("gwendolen"), "kind": "cello",
              "words": "Small hands; a warm voice for chamber music.", "until": day("2027-06-30")},
        criteria=(_must("price", "at most 32000"), _like("measure:string_length", "680-690 mm", 3),
                  _like("maker", "Merrow"), _like("price", "10000-20000")),
    ).id  # fmt: skip
    yield day("2026-10-08")
    teller.do("tell_of_matches", wish_id=wish, how="letter", note="The bench is warm; come and play them.")
    yield day("2026-11-12")
    teller.do("set_aside", wish_id=wish, instrument_id=teller.things["spar"])
    teller.do(
        "change_wish", wish_id=wish, wish={"until": day("2027-12-31")},
        criteria=(_must("price", "at most 32000"), _like("measure:string_length", "680-690 mm", 3),
                  _like("maker", "Merrow"), _like("price", "8000-20000")),
    )  # fmt: skip


def a_bow(teller: Teller) -> Thread:
    """A cello bow was looked for, given up, taken up again, and found at last."""
    yield day("2026-05-12")
    wish = teller.do(
        "note_wish",
        wish={"person_id": teller.who("piran"), "kind": "bow", "words": "Light, for long rehearsals."},
        criteria=(_must("price", "at most 900"), _like("measure:bow_weight", "at most 80 g", 2)),
    ).id  # fmt: skip
    yield day("2026-06-02")
    teller.do("end_wish", wish_id=wish, ending="given_up")
    yield day("2026-06-30")
    teller.do("take_up_wish", wish_id=wish)
    teller.do("tell_of_matches", wish_id=wish, how="spoken")
    yield day("2026-08-04")
    teller.do("end_wish", wish_id=wish, ending="found")


def a_treble_viol(teller: Teller) -> Thread:
    """A treble viol for a growing pupil: what came in since is told of today."""
    yield day("2026-11-19")
    teller.do(
        "note_wish",
        wish={"person_id": teller.who("ida"), "kind": "viola_da_gamba", "words": "For a pupil of twelve."},
        criteria=(_must("size", "treble"), _must("price", "at most 6000"),
                  _like("measure:string_length", "340-360 mm")),
    )  # fmt: skip


THREADS = (a_short_string, a_bow, a_treble_viol)
