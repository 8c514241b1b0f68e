"""The written form of a sale to reckon: a form whose amounts and rates are text, so that no number loses a digit."""

from __future__ import annotations

from fractions import Fraction

from shopledger.quantities import currencies
from shopledger.quantities.money import Money
from shopledger.quantities.rates import parse_rate
from shopledger.quantities.words import N_
from shopledger.rules.case_form import Form


class ReckonForm(Form):
    """A form that hands out amounts, rates and currencies as well."""

    def amount(self, key: str, currency: str) -> Money | None:
        """Give an amount written as text, None where it is left out."""
        value = self._text(key, N_('the amount as text, such as "1250.00"'))
        return None if value is None else Money.parse(value, currency, field=self.at(key))

    def rate(self, key: str) -> Fraction | None:
        """Give a rate written as text, None where it is left out."""
        value = self._text(key, N_('the rate as text, such as "20%"'))
        return None if value is None else parse_rate(value, field=self.at(key))

    def needed_amount(self, key: str, currency: str) -> Money:
        """Give an amount that may not be left out."""
        value = self.amount(key, currency)
        if value is None:
            raise self.missing(key, '"1250.00"')
        return value

    def needed_rate(self, key: str, example: str) -> Fraction:
        """Give a rate that may not be left out."""
        value = self.rate(key)
        if value is None:
            raise self.missing(key, example)
        return value

    def currency(self, key: str) -> str:
        """Give a known currency."""
        code = self._text(key, N_('the currency as text, such as "USD"'))
        if code is None:
            raise self.missing(key, '"USD"')
        currencies.minor_units(code, field=self.at(key))
        return code
