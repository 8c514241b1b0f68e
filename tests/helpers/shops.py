"""A shop in which acts are tried: a ledger whose day can be moved, a few people, things consigned and sold."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import func, select

from shopledger.acts import act, new_op_id
from shopledger.acts.declare import Outcome
from shopledger.acts.doing import commit_act, do
from shopledger.acts.owning import OwnerRow
from shopledger.acts.selling_forms import SellLine
from shopledger.model import Account, Counter, Entry, Payment, Person, Posting, Sale, SaleLine, tables
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.money import Money
from shopledger.queries.owing import balances, owner_accounts, sale_money
from shopledger.store.ledger import Ledger, open_ledger
from shopledger.store.prove import prove
from tests.helpers.ledgers import counted_bytes

FIRST_DAY = date(2026, 3, 2)
Entries = list[dict[str, int]]


def eur(text: str) -> Money:
    """Give an amount of the tests' currency."""
    return Money.parse(text, "EUR")


class MovedClock:
    """A clock that stands at nine in the morning of a day until the day, or its seconds, are moved."""

    def __init__(self, day: date = FIRST_DAY) -> None:
        self.day = day
        self.seconds = 0

    def __call__(self) -> datetime:
        nine = datetime(self.day.year, self.day.month, self.day.day, 9, tzinfo=UTC)
        return nine + timedelta(seconds=self.seconds)


class TriedShop:
    """A ledger with people, and the acts by their names: `shop.act("sell", buyer_id=…)`."""

    def __init__(self, place: str | Path) -> None:
        self.clock = MovedClock()
        self.ledger: Ledger = open_ledger(place, clock=self.clock, randomness=counted_bytes())
        with self.ledger.read() as reading:
            self.shop_person = reading.shop().person_id
        self.owner = self.person("Orla Fenn")
        self.other = self.person("Ivo Marsh")
        self.buyer = self.person("Tam Brine")
        self.player = self.person("Ida Skerry")
        self.dealer = self.person("Hull and Keel", kind="firm")
        self.kin = self.person("Una Quill", relation="family")

    @property
    def today(self) -> date:
        return self.clock.day

    def pass_days(self, days: int) -> None:
        """Move the day on."""
        self.clock.day += timedelta(days=days)

    def form(self, name: str, /, **inputs: Any) -> Any:
        """Give a filled form of an act, with a fresh id."""
        return act(name).form(**{"op_id": new_op_id(), "on": self.today, "by": "the maker", **inputs})

    def act(self, name: str, /, **inputs: Any) -> Outcome:
        """Do an act without rendering its papers, which take longer than the act."""
        return commit_act(self.ledger, act(name), self.form(name, **inputs))

    def with_papers(self, name: str, /, **inputs: Any) -> Outcome:
        """Do an act as the window does, its papers issued."""
        return do(self.ledger, act(name), self.form(name, **inputs))

    def person(self, name: str, /, **known: Any) -> int:
        return self.act("add_person", person={"name": name, **known}).id

    def taken_in(self, *owners: OwnerRow, reason: str = "to_sell", **inputs: Any) -> int:
        """Take a cello in; by default it is the first owner's."""
        return self.act(
            "take_in",
            owners=owners or (OwnerRow(person_id=self.owner),),
            stay={"reason": reason},
            **{"instrument": {"kind": "cello", "maker": "Ansel Quill", "made_when": "1987"}, **inputs},
        ).id

    def consigned(
        self, asking: str = "10000.00", *owners: OwnerRow, signed: bool = True, **terms: Any
    ) -> int:
        """Take a cello in and agree terms: 20 % unless others are given."""
        instrument = self.taken_in(*owners)
        if "commission_rule" not in terms:
            terms = {"commission_rate": Fraction(1, 5), **terms}
        self.act(
            "agree_terms",
            instrument_id=instrument,
            terms={"ends_on": self.today + timedelta(days=365), "asking": eur(asking), **terms},
            signed_by="Orla Fenn" if signed else "",
        )
        return instrument

    def own(self, cost: str = "1500.00", asking: str = "2000.00") -> int:
        """Take in an instrument as the shop's own, paid from its account."""
        return self.act(
            "take_in",
            instrument={"kind": "violin", "description": "trade work"},
            stay={"reason": "own"},
            cost=eur(cost),
            asking=eur(asking),
        ).id

    def line(self, instrument: int, price: str | None = "10000.00", kind: str = "consigned") -> SellLine:
        return SellLine(kind=kind, instrument_id=instrument, price=None if price is None else eur(price))

    def sold(self, instrument: int, price: str = "10000.00", **inputs: Any) -> int:
        """Sell one consigned instrument to the buyer."""
        given = {"buyer_id": self.buyer, "lines": (self.line(instrument, price),), **inputs}
        return self.act("sell", **given).id

    def pay(self, sale: int, amount: str | None = None, *, cleared: bool = True, **inputs: Any) -> str:
        """Take a payment, of all that is owed where no amount is given; give its receipt's number."""
        if amount is None:
            with self.ledger.read() as reading:
                money = sale_money(reading, sale).owes
        else:
            money = eur(amount)
        self.act("take_payment", sale_id=sale, amount=money, cleared=cleared, **inputs)
        with self.ledger.read() as reading:
            return reading.session.scalars(select(Payment.number).order_by(Payment.id.desc()).limit(1)).one()

    def settled(self, asking: str = "10000.00", **terms: Any) -> tuple[int, int]:
        """Consign, sell, pay in full and settle; give instrument and sale."""
        instrument = self.consigned(asking, **terms)
        sale = self.sold(instrument, asking)
        self.pay(sale)
        self.act("settle", sale_id=sale)
        return instrument, sale

    # -- what is there

    def last_entry(self) -> int:
        with self.ledger.read() as reading:
            return reading.session.scalar(select(func.max(Entry.id))) or 0

    def booked(self, doing: Callable[[], object]) -> Entries:
        """Give what an act booked: by entry its amounts in minor units, by account, with the person's name."""
        before = self.last_entry()
        doing()
        with self.ledger.read() as reading:
            rows = reading.session.execute(
                select(Posting.entry_id, Account.code, Person.name, Posting.amount)
                .join(Account, Account.id == Posting.account_id)
                .outerjoin(Person, Person.id == Posting.person_id)
                .where(Posting.entry_id > before)
                .order_by(Posting.entry_id, Posting.n)
            ).all()
        entries: dict[int, dict[str, int]] = defaultdict(dict)
        for entry, code, name, minor in rows:
            entries[entry][f"{code} {name}" if name else code] = minor
        return list(entries.values())

    def balances(self) -> Mapping[str, int]:
        """Give every account that is not nought."""
        with self.ledger.read() as reading:
            return {code: minor for code, minor in balances(reading).items() if minor}

    def owed(self, person: int) -> tuple[int, int, int]:
        """Give what is pending, held and owed by a person as an owner."""
        with self.ledger.read() as reading:
            account = owner_accounts(reading, [person]).get(person)
        return (account.pending.minor, account.held.minor, account.owes.minor) if account else (0, 0, 0)

    def owes(self, sale: int) -> int:
        with self.ledger.read() as reading:
            return sale_money(reading, sale).owes.minor

    def sale_line(self, sale: int, n: int = 1) -> SaleLine:
        with self.ledger.read() as reading:
            return reading.session.scalars(
                select(SaleLine).where(SaleLine.sale_id == sale, SaleLine.n == n)
            ).one()

    def sale(self, sale: int) -> Sale:
        with self.ledger.read() as reading:
            return reading.session.get_one(Sale, sale)

    def rows(self) -> dict[str, int]:
        """Give the count of rows of every table, and how far every series is counted."""
        with self.ledger.read() as reading:
            found = {
                table.name: reading.session.scalar(select(func.count()).select_from(table)) or 0
                for table in tables().sorted_tables
            }
            for series, year, last in reading.session.execute(
                select(Counter.series, Counter.year, Counter.last)
            ):
                found[f"{series} {year}"] = last
        return found

    def wrong(self) -> list[str]:
        """Give what the proof finds; nothing where all is sound."""
        return [f"{wrong.what} {wrong.where}: {wrong.says}" for wrong in prove(self.ledger.where)]


def row(person: int, share: str | None = None) -> OwnerRow:
    """Give an owner's row of a form."""
    return OwnerRow(person_id=person, share=None if share is None else Fraction(share))


class StillShop(TriedShop):
    """A shop with something in every state, in which acts are only refused, so that many tests share it."""

    def __init__(self, place: str | Path) -> None:
        super().__init__(place)
        self.agreed = self.consigned(floor=eur("7000.00"))
        self.unsigned = self.consigned(signed=False)
        self.raw = self.taken_in()
        self.mine = self.own()
        self.gone = self.taken_in()
        self.act("return_to_owner", instrument_id=self.gone, handed_to="Orla Fenn")
        self.held = self.consigned()
        self.act(
            "hold",
            instrument_id=self.held,
            person_id=self.player,
            until=self.today + timedelta(days=10),
            deposit=eur("300.00"),
        )
        self.sold_one = self.consigned()
        self.open_sale = self.sold(self.sold_one)
        self.paid_one, self.paid_sale = self.settled(approval_days=0)
        self.approved = self.sold(self.consigned(approval_days=7))
        self.pay(self.approved)
        self.lost = self.consigned()
        self.act(
            "report_loss", instrument_id=self.lost, what_happened="fire", agreed_value=eur("9000.00"),
            excess=eur("500.00"),
        )  # fmt: skip

    def refuses(
        self, name: str, kind: type[LedgerError], field: str | None, words: str, /, **inputs: Any
    ) -> None:
        """Make sure that an act is refused in these words about this field, and that nothing was written."""
        before = self.rows()
        with pytest.raises(kind) as caught:
            self.with_papers(name, **inputs)
        error = caught.value
        sentence = error.sentence(self.ledger.manners)
        assert type(error) is kind, sentence
        assert (error.field, words in sentence) == (field, True), (error.field, sentence)
        assert sentence.endswith((".", "?")), sentence
        assert "{" not in sentence, sentence
        assert self.rows() == before
