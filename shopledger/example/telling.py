"""Telling the example's story: threads that each go on day by day, woven into one order of days, all through acts."""

from __future__ import annotations

import heapq
from collections.abc import Generator, Iterable, Iterator
from datetime import date
from typing import Any

from shopledger.acts import act
from shopledger.acts.declare import Outcome
from shopledger.acts.doing import commit_act
from shopledger.example.clock import Clock, FormIds
from shopledger.example.haste import Printers
from shopledger.example.people import BY_KEY
from shopledger.model import Job, JobBill, Payment
from shopledger.quantities.money import Money
from shopledger.queries.owing import owner_account, sale_money
from shopledger.store.ledger import Ledger

CURRENCY = "EUR"

Thread = Generator[date, None, None]
"""One thread of the story: it yields the day on which it goes on."""


def eur(text: str) -> Money:
    """Give an amount in the example's currency."""
    return Money.parse(text, CURRENCY)


def day(text: str) -> date:
    """Give a day written as YYYY-MM-DD."""
    return date.fromisoformat(text)


class Teller:
    """Does the acts of the story on the day that its clock shows, and remembers what is called what."""

    def __init__(self, ledger: Ledger, clock: Clock, printers: Printers) -> None:
        """Tell into an open ledger; the printers take the papers."""
        self.ledger = ledger
        self.clock = clock
        self._printers = printers
        self._forms = FormIds()
        self._people: dict[str, int] = {}
        self.things: dict[str, int] = {}
        self.sales: dict[str, int] = {}
        self.goods: dict[str, int] = {}
        self.work: dict[str, int] = {}
        self.jobs: dict[str, int] = {}

    def do(self, name: str, **inputs: Any) -> Outcome:
        """Do an act today."""
        one = act(name)
        form = one.form(op_id=self._forms.next(), on=self.clock.today, by="Elias Merrow", **inputs)
        outcome = commit_act(self.ledger, one, form)
        self._printers.take(self.ledger, outcome.papers)
        self.clock.act_done()
        return outcome

    def who(self, key: str) -> int:
        """Give a person's id; whoever comes for the first time is added."""
        if key not in self._people:
            self._people[key] = self.do("add_person", person=BY_KEY[key].values()).id
        return self._people[key]

    def pay(self, sale: int, amount: str = "", *, cleared: bool = True, **more: Any) -> None:
        """Let a buyer pay an amount, or all that is owed."""
        with self.ledger.read() as reading:
            owes = sale_money(reading, sale).owes
        paid = eur(amount) if amount else owes
        self.do("take_payment", sale_id=sale, amount=paid, cleared=cleared, **more)

    def pay_owner(self, key: str, amount: str = "", **more: Any) -> None:
        """Pay an owner an amount, or all that is set aside for them."""
        with self.ledger.read() as reading:
            held = owner_account(reading, self.who(key)).held
        self.do("pay_owner", person_id=self.who(key), amount=eur(amount) if amount else held, **more)

    def shop_person(self) -> int:
        """Give the id of the shop as a person."""
        with self.ledger.read() as reading:
            return int(reading.shop().person_id)

    def instrument_of_job(self, job: int) -> int:
        """Give the id of the instrument that a job is on."""
        with self.ledger.read() as reading:
            return int(reading.session.get_one(Job, job).instrument_id)

    def claim_number(self, key: str) -> str:
        """Give the claim number of a job of the story."""
        with self.ledger.read() as reading:
            return str(reading.session.get_one(Job, self.jobs[key]).number)

    def bill_of_job(self, job: int) -> int:
        """Give the id of the sale that a job was billed by."""
        with self.ledger.read() as reading:
            bills = reading.session.query(JobBill.sale_id).where(JobBill.job_id == job)
            return int(bills.order_by(JobBill.id.desc()).limit(1).scalar())

    def last_receipt(self, sale: int) -> str:
        """Give the number of a sale's last payment."""
        with self.ledger.read() as reading:
            rows = reading.session.query(Payment.number).where(Payment.sale_id == sale)
            return str(rows.order_by(Payment.id.desc()).limit(1).scalar())


def weave(teller: Teller, threads: Iterable[Thread]) -> None:
    """Tell all threads in the order of their days; on one day in the order in which they were named."""
    waiting: list[tuple[date, int, Iterator[date]]] = []
    for n, begun in enumerate(threads):
        first = next(begun, None)
        if first is not None:
            heapq.heappush(waiting, (first, n, begun))
    while waiting:
        today, n, thread = heapq.heappop(waiting)
        teller.clock.move_to(today)
        later = next(thread, None)
        if later is not None:
            heapq.heappush(waiting, (later, n, thread))
