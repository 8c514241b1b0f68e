"""A second reckoning, written apart from the program: from the written rules alone, sharing no line with it.

It imports nothing of the package. Amounts are exact fractions of the currency's main unit (not whole minor units),
taxes and bounds are found by trying amounts one after the other (not by formula), and a case is the plain dictionary of
the written form. Where both agree on thousands of random cases, a slip would have to be made twice, in two styles.
The number of decimals of each currency is from memory of ISO 4217 here; the program reads the published table.
"""

from __future__ import annotations

import itertools
import re
from fractions import Fraction
from math import floor
from typing import Any

DECIMALS = {"USD": 2, "EUR": 2, "GBP": 2, "JPY": 0, "KWD": 3}
HALF = Fraction(1, 2)
KEYS = {
    "case": "currency asking price terms costs referral tax owners paid make_up approval_over",
    "terms": "commission least most discount_borne_by floor pay_owner",
    "commission": "rate brackets fixed net_to_owner",
    "bracket": "up_to rate",
    "cost": "what amount rate of borne_by before_commission",
    "referral": "rate fixed of borne_by disclosed_to",
    "tax": "scheme rate taxable exempt exempt_reason",
    "owner": "name share",
}


class No(Exception):
    """The case is refused."""


def need(condition: object) -> None:
    if not condition:
        raise No


def is_text(value: object) -> bool:
    return isinstance(value, str)


class Reckoner:
    """Reckons one case of one currency."""

    def __init__(self, case: dict[str, Any]) -> None:
        self.case = self.opened(case, "case")
        code = self.case.get("currency")
        need(is_text(code) and code in DECIMALS)
        self.unit = Fraction(1, 10 ** DECIMALS[code])

    @staticmethod
    def opened(record: object, kind: str) -> dict[str, Any]:
        need(isinstance(record, dict))
        assert isinstance(record, dict)
        need(set(record) <= set(KEYS[kind].split()))
        return {key: value for key, value in record.items() if value is not None}

    def amount(self, value: object) -> Fraction:
        need(is_text(value) and re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", str(value)))
        text = str(value)
        need(len(re.sub(r"[^0-9]", "", text)) <= 15)
        need(len(text.partition(".")[2]) <= DECIMALS[self.case["currency"]])
        need(Fraction(text) >= 0)
        return Fraction(text)

    def rate(self, value: object) -> Fraction:
        need(is_text(value))
        text = str(value)
        if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?%", text):
            found = Fraction(text[:-1]) / 100
        elif re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", text):
            found = Fraction(text)
        else:
            need(re.fullmatch(r"-?[0-9]+/0*[1-9][0-9]*", text))
            found = Fraction(text)
        need(0 <= found <= 1)
        return found

    def rounded(self, exact: Fraction) -> Fraction:
        """Half away from zero, to the unit."""
        units = exact / self.unit
        return self.unit * (floor(units + HALF) if units >= 0 else -floor(-units + HALF))

    @staticmethod
    def truth(record: dict[str, Any], key: str) -> bool:
        need(record.get(key, False) in (True, False) and isinstance(record.get(key, False), bool))
        return bool(record.get(key, False))

    @staticmethod
    def word(record: dict[str, Any], key: str, allowed: str, default: str) -> str:
        value = record.get(key, default)
        need(is_text(value) and value in allowed.split())
        return str(value)

    def shares(self, total: Fraction, weights: list[Fraction]) -> list[Fraction]:
        """Hand out whole units one by one to whoever's exact share lies furthest above what they have."""
        units = abs(total) / self.unit
        exact = [units * weight for weight in weights]
        have = [floor(each) for each in exact]
        rest = [each - floor(each) for each in exact]
        for _ in range(int(units) - sum(have)):
            first = rest.index(max(rest))
            have[first] += 1
            rest[first] = Fraction(-1)
        return [(-each if total < 0 else each) * self.unit for each in have]

    # -- the rules, in the order of the text ---------------------------------------------------------------------

    def answer(self) -> dict[str, Any]:
        case = self.case
        price = self.amount(case.get("price"))
        need(price > 0)
        asking = self.amount(case["asking"]) if "asking" in case else price
        discount = max(asking - price, Fraction(0))
        terms = self.opened(case.get("terms"), "terms")
        bearer = self.word(terms, "discount_borne_by", "as_it_falls owner shop", "as_it_falls")
        pay = self.word(terms, "pay_owner", "when_paid_in_full as_money_clears", "when_paid_in_full")
        lowest = self.amount(terms["floor"]) if "floor" in terms else None
        costs = self.read_costs(case.get("costs", []))
        scheme, tax_rate, sales_tax = self.read_tax(case.get("tax", {}), price)
        vat = tax_rate if scheme == "vat_on_commission" else Fraction(0)
        before = sum((cost["amount"] for cost in costs if cost["before"]), Fraction(0))
        base = (price if bearer == "as_it_falls" else max(asking, price)) - before
        need(base >= 0)
        commission = self.commission(terms, base, vat, bearer)
        if bearer == "shop":
            need(discount <= commission)
            commission -= discount
        need(commission <= price - before)
        buyer_pays = price + sales_tax
        owner_costs = shop_costs = Fraction(0)
        for cost in costs:
            if cost["amount"] is None:
                of = price if cost["of"] == "price" else buyer_pays
                cost["amount"] = self.rounded(of * cost["rate"])
            owner_part, shop_part = self.halved(cost["amount"], cost["by"])
            owner_costs += owner_part
            shop_costs += shop_part
        ref_owner, ref_shop = self.referral(case.get("referral"), price, commission)
        left = price - owner_costs - ref_owner
        made_up = Fraction(0)
        if self.truth(case, "make_up") and lowest is not None:
            made_up = commission - self.tried_down(commission, left - lowest, vat)
            commission -= made_up
        vat_due = self.rounded(commission * vat)
        margin = self.rounded(commission * tax_rate / (1 + tax_rate)) if scheme == "margin" else Fraction(0)
        net = left - commission - vat_due
        short = max(lowest - net, Fraction(0)) if lowest is not None else Fraction(0)
        names, weights = self.read_owners(case.get("owners"))
        parts = self.shares(net, weights)
        answer: dict[str, Any] = {
            "currency": case["currency"],
            "price": self.plain(price),
            "discount": self.plain(discount),
            "commission": self.plain(commission),
            "owner_costs": self.plain(owner_costs),
            "shop_costs": self.plain(shop_costs),
            "referral_owner": self.plain(ref_owner),
            "referral_shop": self.plain(ref_shop),
            "sales_tax": self.plain(sales_tax),
            "vat_on_commission": self.plain(vat_due),
            "margin_vat": self.plain(margin),
            "owner_net": self.plain(net),
            "shop_keeps": self.plain(commission - shop_costs - ref_shop - margin),
            "buyer_pays": self.plain(buyer_pays),
            "floor_short_by": self.plain(short),
            "made_up": self.plain(made_up),
            "owners": [{"name": n, "amount": self.plain(a)} for n, a in zip(names, parts, strict=True)],
        }
        waits = "approval_over" in case and not self.truth(case, "approval_over")
        if "paid" in case:
            paid = min(self.amount(case["paid"]), buyer_pays)
            if pay == "as_money_clears":
                due = floor(net * paid / buyer_pays / self.unit) * self.unit
            else:
                due = net if paid == buyer_pays else Fraction(0)
            answer["due_now"] = self.plain(Fraction(0) if waits else max(due, Fraction(0)))
        return answer

    def commission(self, terms: dict[str, Any], base: Fraction, vat: Fraction, bearer: str) -> Fraction:
        least = self.amount(terms["least"]) if "least" in terms else None
        most = self.amount(terms["most"]) if "most" in terms else None
        need(least is None or most is None or least <= most)
        rule = self.opened(terms.get("commission"), "commission")
        need(len(rule) == 1)
        if "rate" in rule:
            found = self.rounded(base * self.rate(rule["rate"]))
        elif "fixed" in rule:
            found = self.amount(rule["fixed"])
        elif "brackets" in rule:
            found = self.rounded(self.slices(rule["brackets"], base))
        else:
            need(least is None and bearer == "as_it_falls")
            net = self.amount(rule["net_to_owner"])
            need(net <= base)
            found = self.tried_down(base - net, base - net, vat)
        if least is not None and found < least:
            found = least
        if most is not None and found > most:
            found = most
        return found

    def tried_down(self, start: Fraction, room: Fraction, vat: Fraction) -> Fraction:
        """Try every amount from the start down to nothing until it and the VAT on it fit into the room."""
        tried, fits = int(start / self.unit), int(room / self.unit)
        top, bottom = vat.numerator, vat.denominator
        while tried > 0 and tried + (2 * tried * top + bottom) // (2 * bottom) > fits:
            tried -= 1
        return tried * self.unit

    def slices(self, brackets: object, base: Fraction) -> Fraction:
        need(isinstance(brackets, list) and brackets)
        assert isinstance(brackets, list)
        rows = [self.opened(row, "bracket") for row in brackets]
        bounds = [self.amount(row["up_to"]) if "up_to" in row else None for row in rows]
        need(all(bound is not None for bound in bounds[:-1]) and bounds[-1] is None)
        edges = [Fraction(0), *[bound for bound in bounds if bound is not None]]
        need(all(low < high for low, high in itertools.pairwise(edges)))
        rates = [self.rate(row.get("rate")) for row in rows]
        # Each rate counts from its lower edge to the end; the rate below it is taken back from there.
        found = Fraction(0)
        for n, (edge, rate) in enumerate(zip(edges, rates, strict=True)):
            found += max(base - edge, Fraction(0)) * (rate - (rates[n - 1] if n else 0))
        return found

    def halved(self, amount: Fraction, by: str) -> tuple[Fraction, Fraction]:
        if by == "both":
            owner = floor(amount / 2 / self.unit) * self.unit
            return owner, amount - owner
        return (amount, Fraction(0)) if by == "owner" else (Fraction(0), amount)

    def read_costs(self, costs: object) -> list[dict[str, Any]]:
        need(isinstance(costs, list))
        assert isinstance(costs, list)
        found: list[dict[str, Any]] = []
        for row in costs:
            cost = self.opened(row, "cost")
            need(is_text(cost.get("what", "")))
            need(("amount" in cost) != ("rate" in cost))
            by = self.word(cost, "borne_by", "owner shop both", "owner")
            of = self.word(cost, "of", "price buyer_pays", "price")
            before = self.truth(cost, "before_commission")
            need(not before or (by == "owner" and "amount" in cost))
            need("rate" in cost or of == "price")
            amount = self.amount(cost["amount"]) if "amount" in cost else None
            rate = self.rate(cost["rate"]) if "rate" in cost else None
            found.append({"amount": amount, "rate": rate, "of": of, "by": by, "before": before})
        return found

    def referral(self, referral: object, price: Fraction, commission: Fraction) -> tuple[Fraction, Fraction]:
        if referral is None:
            return Fraction(0), Fraction(0)
        row = self.opened(referral, "referral")
        need(("rate" in row) != ("fixed" in row))
        by = self.word(row, "borne_by", "shop owner both", "shop")
        of = self.word(row, "of", "price commission", "price")
        need("rate" in row or of == "price")
        told = row.get("disclosed_to", [])
        need(isinstance(told, list) and all(is_text(each) and each in ("buyer", "owner") for each in told))
        if "fixed" in row:
            return self.halved(self.amount(row["fixed"]), by)
        return self.halved(
            self.rounded((price if of == "price" else commission) * self.rate(row["rate"])), by
        )

    def read_tax(self, tax: object, price: Fraction) -> tuple[str, Fraction, Fraction]:
        row = self.opened(tax, "tax")
        scheme = self.word(row, "scheme", "none sales_tax vat_on_commission margin", "none")
        need((scheme == "none") == ("rate" not in row))
        rate = self.rate(row["rate"]) if "rate" in row else Fraction(0)
        exempt = self.truth(row, "exempt")
        need(is_text(row.get("exempt_reason", "")))
        if scheme != "sales_tax":
            need(not exempt and "taxable" not in row)
            return scheme, rate, Fraction(0)
        taxable = self.amount(row["taxable"]) if "taxable" in row else price
        return scheme, rate, Fraction(0) if exempt else self.rounded(taxable * rate)

    def read_owners(self, owners: object) -> tuple[list[str], list[Fraction]]:
        if owners is None:
            return ["owner"], [Fraction(1)]
        need(isinstance(owners, list))
        assert isinstance(owners, list)
        rows = [self.opened(row, "owner") for row in owners]
        need(all(is_text(row.get("name")) and row["name"].strip() for row in rows))
        shares = [self.rate(row.get("share")) for row in rows]
        need(sum(shares, Fraction(0)) == 1)
        return [row["name"] for row in rows], shares

    def plain(self, amount: Fraction) -> str:
        places = DECIMALS[self.case["currency"]]
        units = amount / self.unit
        assert units.denominator == 1
        whole, part = divmod(abs(units.numerator), 10**places)
        sign = "-" if amount < 0 else ""
        return f"{sign}{whole}.{part:0{places}d}" if places else f"{sign}{whole}"


def reckon(case: object) -> dict[str, Any] | None:
    """Give the answer without its working, None where the case is refused."""
    try:
        need(isinstance(case, dict))
        assert isinstance(case, dict)
        reckoner = Reckoner(case)
        # Booleans are read even where nothing depends on them.
        for key in ("make_up", "approval_over"):
            reckoner.truth(reckoner.case, key)
        if "paid" in reckoner.case:
            reckoner.amount(reckoner.case["paid"])
        return reckoner.answer()
    except No:
        return None
