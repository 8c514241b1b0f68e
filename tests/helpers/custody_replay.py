"""Custody as a reader of an export tells it: the acts replayed in their order, without the rows that say where it is.

It knows the export's form and the trade, and nothing of the program's questions or rules on custody: where a thing is
follows from what each act did to its stay, its trial, its placing, its shipment, its job or its loss.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from tests.helpers.exported import read_csv

Row = dict[str, str | None]
GONE = ("handed_over", "lost", "not_yet")


@dataclass(frozen=True)
class Told:
    """Where an instrument is on a day, as the replay tells it; people by their keys, amounts as decimals."""

    place: str
    since: date | None = None
    holder: str | None = None
    person: int | None = None
    risk: str | None = None
    insured_by: str | None = None
    insured_for: Decimal | None = None


def _table(folder: Path, name: str) -> dict[str, Row]:
    head, *rows = read_csv(folder / f"{name}.csv")
    names = [str(one) for one in head]
    made = [dict(zip(names, row, strict=True)) for row in rows]
    return {str(row["id"]): row for row in made}


def _amount(field: str | None) -> Decimal | None:
    return None if field is None else Decimal(field)


def _key(field: str | None) -> int | None:
    return None if field is None else int(field)


def _day(field: str | None) -> date:
    return date.fromisoformat(str(field))


class Replay:
    """The acts of an export, replayed once; asked for any day after."""

    def __init__(self, folder: Path) -> None:
        self._tables = {
            name: _table(folder, name)
            for name in (
                "deed", "change", "instrument", "stay", "agreement", "terms", "trial", "trial_line", "placing",
                "shipment", "shipment_line", "job", "loss", "sale_line",
            )
        }  # fmt: skip
        self._touched: dict[str, list[tuple[str, str]]] = defaultdict(list)
        for row in self._tables["change"].values():
            self._touched[str(row["deed_id"])].append((str(row["record"]), str(row["row_id"])))
        self._seen: set[tuple[str, str]] = set()
        self._moves: dict[str, list[tuple[str, Told]]] = defaultdict(list)
        """By instrument: the stay and where it went, in the order of the acts."""
        for deed in self._tables["deed"].values():
            self._replay(deed)

    @property
    def numbers(self) -> dict[int, str]:
        """The number of every instrument by its key."""
        return {int(key): str(row["number"]) for key, row in self._tables["instrument"].items()}

    def days(self) -> list[date]:
        """Give the days on which something moved."""
        return sorted({told.since for moves in self._moves.values() for _stay, told in moves if told.since})

    def on(self, instrument: int, day: date) -> Told:
        """Tell where an instrument is on a day."""
        before = [
            (stay, told)
            for stay, told in self._moves[str(instrument)]
            if told.since is not None and told.since <= day
        ]
        if not before:
            return Told("not_yet")
        stay, told = before[-1]
        if told.place in GONE:
            return told
        risk, by, amount = self._agreed(stay, day)
        in_shop = told.place in ("here", "workshop")
        return Told(
            told.place,
            told.since,
            told.holder,
            told.person,
            risk if in_shop else told.risk,
            by if in_shop else told.insured_by,
            amount if told.insured_for is None else told.insured_for,
        )

    def _agreed(self, stay: str, day: date) -> tuple[str | None, str | None, Decimal | None]:
        """Tell at whose risk a thing lies in the shop, who insures it there, for what: as its owner agreed."""
        at_intake = _amount(self._tables["stay"][stay]["insured_value"])
        agreements = {key for key, row in self._tables["agreement"].items() if row["stay_id"] == stay}
        agreed = [
            row
            for row in self._tables["terms"].values()
            if row["agreement_id"] in agreements and _day(row["agreed_on"]) <= day
        ]
        if agreed:
            value = _amount(agreed[-1]["agreed_value"])
            return "shop", agreed[-1]["insured_by"], at_intake if value is None else value
        if self._tables["stay"][stay]["reason"] == "own" or at_intake is not None:
            return "shop", "shop", at_intake
        return None, None, None

    # -- what each act moves

    def _replay(self, deed: Row) -> None:
        touched = self._touched[str(deed["id"])]
        moves = list(self._moves_of(deed, touched))
        said = sum(record == "custody" for record, _row in touched)
        assert len(moves) == said, (
            f"{deed['act']} {deed['id']} moved {said} things, the replay knows {len(moves)}"
        )
        for stay, told in moves:
            self._moves[str(self._tables["stay"][stay]["instrument_id"])].append((stay, told))
        self._seen.update(touched)

    def _moves_of(self, deed: Row, touched: list[tuple[str, str]]) -> Iterator[tuple[str, Told]]:
        """Tell what a deed moves: first what came in by it, then what else it did."""
        day = _day(deed["booked_on"])
        for record, key in touched:
            if record == "stay" and (record, key) not in self._seen:
                yield key, Told("here", day)
        act = getattr(self, f"_{deed['act']}", None)
        if act is not None:
            moves: Callable[[date, Callable[[str], list[Row]]], Iterator[tuple[str, Told]]] = act
            yield from moves(day, lambda name: self._rows(name, touched))

    def _rows(self, name: str, touched: list[tuple[str, str]]) -> list[Row]:
        """Give the rows of a table that a deed made or changed, each once."""
        keys = dict.fromkeys(key for record, key in touched if record == name)
        return [self._tables[name][key] for key in keys]

    def _open_job(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for job in rows("job"):
            yield str(job["stay_id"]), Told("workshop", day)

    _open_job_here = _open_job

    def _collect_job(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for job in rows("job"):
            stays = job["ending"] == "stays"
            yield str(job["stay_id"]), Told("here" if stays else "handed_over", day)

    _return_declined = _collect_job
    _sell_for_lien = _collect_job

    def _hand_over(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for stay in rows("stay"):
            yield str(stay["id"]), Told("handed_over", day)

    _return_to_owner = _hand_over

    def _report_loss(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for loss in rows("loss"):
            yield str(loss["stay_id"]), Told("lost", day)

    def _take_back(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for line in rows("sale_line"):
            stay = line["stay_id"]
            if stay is not None and self._last(stay).place in GONE:
                yield stay, Told("here", day)

    def _last(self, stay: str) -> Told:
        instrument = str(self._tables["stay"][stay]["instrument_id"])
        return self._moves[instrument][-1][1]

    def _lend_on_trial(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        (trial,) = rows("trial")
        for line in rows("trial_line"):
            if line["stay_id"] is not None:
                yield (
                    line["stay_id"],
                    Told(
                        "on_trial",
                        day,
                        "player",
                        _key(trial["person_id"]),
                        trial["risk"],
                        trial["insured_by"],
                        _amount(line["value"]),
                    ),
                )

    def _take_trial_back(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for line in rows("trial_line"):
            if line["stay_id"] is not None and line["decision"] == "returned":
                yield line["stay_id"], Told("here", day)

    def _place_with_dealer(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for placing in rows("placing"):
            yield str(placing["stay_id"]), self._at_dealer(placing, day)

    def _placing_back(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        for placing in rows("placing"):
            yield str(placing["stay_id"]), Told("here", day)

    def _at_dealer(self, placing: Row, day: date) -> Told:
        return Told(
            "away",
            day,
            "dealer",
            _key(placing["dealer_id"]),
            placing["risk"],
            placing["insured_by"],
            _amount(placing["value"]),
        )

    def _send(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        (shipment,) = rows("shipment")
        lines = rows("shipment_line")
        for line in lines:
            whole = shipment["insured_for"] if len(lines) == 1 else None
            yield (
                str(line["stay_id"]),
                Told(
                    "away" if shipment["trial_id"] is None else "on_trial",
                    day,
                    "carrier",
                    _key(shipment["to_id"]),
                    shipment["risk"],
                    shipment["insured_by"],
                    _amount(whole or line["value"]),
                ),
            )

    def _arrived(self, day: date, rows: Callable[[str], list[Row]]) -> Iterator[tuple[str, Told]]:
        (shipment,) = rows("shipment")
        for line in self._tables["shipment_line"].values():
            if line["shipment_id"] == shipment["id"]:
                assert shipment["why"] == "dealer", f"how does the replay tell of {shipment['why']}?"
                (placing,) = (
                    one for one in self._tables["placing"].values() if one["stay_id"] == line["stay_id"]
                )
                yield str(line["stay_id"]), self._at_dealer(placing, day)
