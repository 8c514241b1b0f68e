"""Money is neither made nor lost, whatever is done in whatever order: a model beside the ledger, on a file.

Short here; `SHOPLEDGER_STEPS=100000` makes it as long as wanted (steps in all, 50 a run).
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from sqlalchemy import func, select

from shopledger.acts.selling_forms import CostRow, SellLine
from shopledger.model import Charge, LineOwner, Payment, Payout, Posting, SaleLine
from shopledger.quantities.errors import LedgerError, Refused, Typed
from shopledger.quantities.money import Money
from tests.helpers.ledgers import migrated
from tests.helpers.shops import TriedShop, eur, row

STEPS = int(os.environ.get("SHOPLEDGER_STEPS", "300"))
MINOR = st.integers(1, 2_000_000)


@cache
def folder() -> tempfile.TemporaryDirectory[str]:
    """The folder of all ledgers that are tried, taken away when the run ends."""
    return tempfile.TemporaryDirectory(prefix="shopledger-model-")


@cache
def template() -> Path:
    path = Path(folder().name) / "template.ledger"
    migrated(path).close()
    return path


class MoneyModel(RuleBasedStateMachine):
    """The acts that move money, tried in any order; what is refused is refused in words and changes nothing."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(dir=template().parent))
        place = self.folder / "shop.ledger"
        shutil.copy(template(), place)
        self.shop = TriedShop(place)
        self.people = [self.shop.owner, self.shop.other]
        self.instruments: list[int] = []
        self.sales: list[int] = []

    @initialize()
    def begin(self) -> None:
        self.take_in(100_000, Fraction(1, 5), "when_paid_in_full", True, 2)
        self.take_in(33_333, Fraction(1, 3), "as_money_clears", False, 1)

    def do(self, name: str, **inputs: Any) -> int | None:
        try:
            return self.shop.act(name, **inputs).id
        except (Refused, Typed) as error:
            assert error.sentence().endswith((".", "?"))
            return None
        except LedgerError as error:
            raise AssertionError(f"{name}: {type(error).__name__} {error}") from error

    @rule(
        asking=MINOR,
        rate=st.sampled_from([Fraction(0), Fraction(1, 5), Fraction(1, 3), Fraction(1)]),
        pay_owner=st.sampled_from(["when_paid_in_full", "as_money_clears"]),
        set_off=st.booleans(),
        owners=st.integers(1, 3),
    )
    def take_in(self, asking: int, rate: Fraction, pay_owner: str, set_off: bool, owners: int) -> None:
        shop = self.shop
        shares = {
            1: (row(shop.owner),),
            2: (row(shop.owner, "1/3"), row(shop.other, "2/3")),
            3: (row(shop.owner, "1/2"), row(shop.other, "1/4"), row(shop.shop_person, "1/4")),
        }[owners]
        self.instruments.append(
            shop.consigned(
                Money(asking, "EUR").plain(),
                *shares,
                commission_rate=rate,
                pay_owner=pay_owner,
                set_off=set_off,
                storage_charge=eur("7.77"),
                failed_sale_costs_by="owner" if set_off else "shop",
            )
        )

    @precondition(lambda self: self.instruments)
    @rule(data=st.data(), price=MINOR, cost=st.integers(0, 50_000), goods=st.booleans(), taxed=st.booleans())
    def sell(self, data: st.DataObject, price: int, cost: int, goods: bool, taxed: bool) -> None:
        instrument = data.draw(st.sampled_from(self.instruments))
        lines = [SellLine(kind="consigned", instrument_id=instrument, price=Money(price, "EUR"))]
        if goods:
            lines.append(SellLine(kind="accessory", what="rosin", price=Money(1 + cost, "EUR")))
        sale = self.do(
            "sell",
            buyer_id=self.shop.buyer,
            lines=tuple(lines),
            costs=(CostRow(what="repair", amount=Money(cost, "EUR"), spent=taxed),) if cost else (),
            tax_scheme="sales_tax" if taxed else "none",
            tax_rate=Fraction(33, 400) if taxed else None,
        )
        if sale is not None:
            self.sales.append(sale)

    @precondition(lambda self: self.sales)
    @rule(data=st.data(), part=st.sampled_from([1, 2, 3]), cleared=st.booleans())
    def pay(self, data: st.DataObject, part: int, cleared: bool) -> None:
        sale = data.draw(st.sampled_from(self.sales))
        owes = max(1, self.shop.owes(sale) // part)
        self.do("take_payment", sale_id=sale, amount=Money(owes, "EUR"), cleared=cleared)

    @precondition(lambda self: self.sales)
    @rule(data=st.data(), name=st.sampled_from(["clear_payments", "settle", "settle"]))
    def clear_or_settle(self, data: st.DataObject, name: str) -> None:
        self.do(name, sale_id=data.draw(st.sampled_from(self.sales)))

    @precondition(lambda self: self.sales)
    @rule(data=st.data())
    def bounce(self, data: st.DataObject) -> None:
        sale = data.draw(st.sampled_from(self.sales))
        with self.shop.ledger.read() as reading:
            numbers = list(reading.session.scalars(select(Payment.number).where(Payment.sale_id == sale)))
        if numbers:
            self.do("bounce_payment", sale_id=sale, number=data.draw(st.sampled_from(numbers)))

    @rule(data=st.data(), part=st.sampled_from([1, 2]))
    def pay_owner(self, data: st.DataObject, part: int) -> None:
        person = data.draw(st.sampled_from(self.people))
        held = self.shop.owed(person)[1]
        self.do("pay_owner", person_id=person, amount=Money(max(1, held // part), "EUR"))

    @rule(data=st.data())
    def owner_pays(self, data: st.DataObject) -> None:
        person = data.draw(st.sampled_from(self.people))
        self.do(
            "take_owners_payment", person_id=person, amount=Money(max(1, self.shop.owed(person)[2]), "EUR")
        )

    @precondition(lambda self: self.sales)
    @rule(data=st.data(), lines=st.sampled_from(["", "1", "2"]))
    def take_back(self, data: st.DataObject, lines: str) -> None:
        self.do("take_back", sale_id=data.draw(st.sampled_from(self.sales)), lines=lines, why="wolf note")

    @precondition(lambda self: self.sales)
    @rule(data=st.data(), off=st.integers(1, 50_000))
    def reduce(self, data: st.DataObject, off: int) -> None:
        sale = data.draw(st.sampled_from(self.sales))
        price = max(1, self.shop.sale_line(sale).price - off)
        self.do("reduce_price", sale_id=sale, price=Money(price, "EUR"), why="a crack")

    @precondition(lambda self: self.sales)
    @rule(data=st.data(), amount=MINOR)
    def give_back(self, data: st.DataObject, amount: int) -> None:
        sale = data.draw(st.sampled_from(self.sales))
        self.do("give_back", sale_id=sale, amount=Money(amount, "EUR"))
        self.do("give_back", sale_id=sale, amount=Money(max(1, -self.shop.owes(sale)), "EUR"))

    @precondition(lambda self: self.instruments)
    @rule(data=st.data(), months=st.integers(1, 40))
    def charge(self, data: st.DataObject, months: int) -> None:
        self.do(
            "charge_owner",
            instrument_id=data.draw(st.sampled_from(self.instruments)),
            kind="storage",
            months=months,
        )

    @invariant()
    def every_entry_balances(self) -> None:
        with self.shop.ledger.read() as reading:
            off = reading.session.execute(
                select(Posting.entry_id).group_by(Posting.entry_id).having(func.sum(Posting.amount) != 0)
            ).all()
        assert off == []

    @invariant()
    def the_bank_covers_what_is_set_aside(self) -> None:
        balances = self.shop.balances()
        held = [self.shop.owed(person)[1] for person in self.people]
        assert min(held) >= 0
        assert balances.get("bank_owners", 0) >= sum(held)

    @invariant()
    def every_owner_is_owed_sales_less_charges_less_payouts(self) -> None:
        for person, wanted in self.by_records().items():
            pending, held, owes = self.shop.owed(person)
            assert pending + held - owes == wanted

    def by_records(self) -> Mapping[int, int]:
        """Give what each owner is owed: nets of live sales - charges (a payout taken back is none) - payouts + paid."""
        found = {}
        with self.shop.ledger.read() as reading:
            ask = reading.session.scalar
            for person in self.people:
                nets = ask(
                    select(func.sum(LineOwner.net))
                    .join(SaleLine, SaleLine.id == LineOwner.sale_line_id)
                    .where(LineOwner.person_id == person, SaleLine.returned_on.is_(None))
                )
                charges = ask(
                    select(func.sum(Charge.minor)).where(
                        Charge.person_id == person, Charge.kind != "paid_back"
                    )
                )
                payouts = ask(select(func.sum(Payout.minor)).where(Payout.person_id == person))
                paid = ask(
                    select(func.sum(Payment.minor)).where(
                        Payment.person_id == person, Payment.sale_id.is_(None)
                    )
                )
                found[person] = int(nets or 0) - int(charges or 0) - int(payouts or 0) + int(paid or 0)
        return found

    def teardown(self) -> None:
        self.shop.ledger.close()
        wrong = self.shop.wrong()
        shutil.rmtree(self.folder)
        assert wrong == []


TestMoney = MoneyModel.TestCase
TestMoney.settings = settings(
    max_examples=max(10, STEPS // 50),
    stateful_step_count=30 if STEPS <= 300 else 50,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
