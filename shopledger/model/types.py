"""How values lie in a column, the same on SQLite and PostgreSQL.

SQLite's STRICT tables take only INTEGER, TEXT and BLOB; money and lengths are whole numbers on both; instants are UTC
on both, since SQLite keeps no time zone.
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import BigInteger, Boolean, Date, DateTime, Dialect, Integer, LargeBinary, Text
from sqlalchemy.types import TypeDecorator, TypeEngine

from shopledger.quantities.days import instant_text, read_instant


class Whole(TypeDecorator[int]):
    """A whole number of 64 bits: keys, minor units of money, nanometres, counts."""

    impl = BigInteger
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """INTEGER on SQLite (so that a key is the row's own number), BIGINT elsewhere."""
        return dialect.type_descriptor(Integer() if dialect.name == "sqlite" else BigInteger())

    def process_bind_param(self, value: int | None, _dialect: Dialect) -> int | None:
        """Refuse anything but a whole number: a float must never reach a column of money."""
        if value is not None and (not isinstance(value, int) or isinstance(value, bool)):
            raise TypeError(f"a whole number is needed, not {value!r}")
        return value

    def process_result_value(self, value: Any, _dialect: Dialect) -> int | None:
        """Give an int: PostgreSQL sums BIGINT to a numeric."""
        return None if value is None else int(value)


class YesNo(TypeDecorator[bool]):
    """True or false."""

    impl = Boolean
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """INTEGER on SQLite, BOOLEAN elsewhere."""
        return dialect.type_descriptor(Integer() if dialect.name == "sqlite" else Boolean())

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> bool | int | None:
        """Write 0 or 1 on SQLite."""
        return int(value) if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, _dialect: Dialect) -> bool | None:
        """Give a bool."""
        return None if value is None else bool(value)


class Words(TypeDecorator[str]):
    """Text of any length."""

    impl = Text
    cache_ok = True


class Day(TypeDecorator[date]):
    """A day of the calendar, as YYYY-MM-DD on SQLite."""

    impl = Date
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """TEXT on SQLite, DATE elsewhere."""
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else Date())

    def process_bind_param(self, value: date | None, dialect: Dialect) -> date | str | None:
        """Write the ISO form on SQLite; an instant is no day."""
        if value is not None and (isinstance(value, datetime) or not isinstance(value, date)):
            raise TypeError(f"a day is needed, not {value!r}")
        return value.isoformat() if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, _dialect: Dialect) -> date | None:
        """Give a day."""
        return date.fromisoformat(value) if isinstance(value, str) else value


class Instant(TypeDecorator[datetime]):
    """An instant in UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """TEXT on SQLite, TIMESTAMP WITH TIME ZONE elsewhere."""
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else DateTime(timezone=True))

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | str | None:
        """Write UTC; an instant without a zone is refused."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise TypeError("an instant needs its time zone")
        return instant_text(value) if dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, _dialect: Dialect) -> datetime | None:
        """Give an aware instant."""
        return read_instant(value) if isinstance(value, str) else value


class Rate(TypeDecorator[Fraction]):
    """An exact share of one, as its numerator and denominator: `1/5`."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, _dialect: Dialect) -> str | None:
        """Write the fraction in lowest terms."""
        return None if value is None else f"{value.numerator}/{value.denominator}"

    def process_result_value(self, value: Any, _dialect: Dialect) -> Fraction | None:
        """Give the fraction."""
        return None if value is None else Fraction(value)


class Bytes(TypeDecorator[bytes]):
    """Bytes as they are."""

    impl = LargeBinary
    cache_ok = True
