"""One family of errors: each carries a sentence as a template and the values it speaks of.

The template is the key (it is what gettext translates); the values stay values until the sentence is shown, so that an
amount or a day appears in the manners of whoever reads it. Each kind is also of a built-in kind.
"""

from __future__ import annotations

from shopledger.quantities.manners import PLAIN, Manners
from shopledger.quantities.words import _


class LedgerError(Exception):
    """Anything the ledger refuses or can't do, as a sentence with its values."""

    def __init__(self, message: str, /, *, field: str | None = None, **values: object) -> None:
        """Keep the template, the field it is about (None where it is about no field) and the values."""
        super().__init__(message)
        self.message = message
        self.field = field
        self.values = values

    def sentence(self, manners: Manners = PLAIN) -> str:
        """Give the whole sentence in the language and manners of the reader."""
        from shopledger.quantities.showing import show_value

        shown = {name: show_value(value, manners) for name, value in self.values.items()}
        if self.field is not None:
            shown.setdefault("field", self.field)
        return _(self.message).format(**shown)

    def __str__(self) -> str:
        """Give the sentence in plain English manners, for logs and the command line."""
        return self.sentence()


class Typed(LedgerError, ValueError):
    """What was typed can't be read or can't be so: the field, what is wrong, what would be right."""


class Refused(LedgerError, RuntimeError):
    """A rule of the shop forbids the act now; the sentence names the rule and the facts."""


class NotFound(LedgerError, LookupError):
    """The thing asked for isn't in the ledger."""


class ChangedMeanwhile(LedgerError, RuntimeError):
    """Somebody else changed the thing since it was read."""


class Trouble(LedgerError, OSError):
    """Trouble outside the program: disk, lock, damage, missing file; the sentence says what to do."""


class Bug(LedgerError, AssertionError):
    """The program contradicts itself; never the user's fault."""
