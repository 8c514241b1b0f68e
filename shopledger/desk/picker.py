"""Whoever or whatever is chosen by typing a part of its name: those that fit stand under the line, with a new one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from shopledger.desk.finding import OFFERED, FindingInput
from shopledger.desk.input import Wrong
from shopledger.desk.shop import Shop
from shopledger.quantities.errors import LedgerError, Typed
from shopledger.quantities.fields import Field
from shopledger.quantities.words import N_, _

_NEW = -1


class PickerInput(FindingInput):
    """A line to type in with those that fit under it; the id is what is kept."""

    def __init__(self, shop: Shop, field: Field, path: str) -> None:
        """Start with nobody chosen."""
        super().__init__(path, _("type a part of the name"))
        self.shop, self.field = shop, field
        self.picking = shop.picking[field.kind]
        self.id: int | None = None
        self.new_in: str | None = None
        """The words of the part of the form into which a new one goes, where there is such a part."""

    def stand_beside(self, cells: Mapping[str, Any]) -> None:
        """Send a new one into the part of the form that is there for it."""
        beside = cells.get(self.field.new_in)
        self.new_in = _(beside.field.label) if beside is not None else None

    def take(self, wrong: list[Wrong]) -> object:
        """Give the id that was chosen.

        Raises: Typed: something was typed and nothing chosen.
        """
        if self.id is None and not self.empty():
            raise Typed(
                N_("“{text}” isn't chosen yet: choose one of those under the line."),
                field=self.path,
                text=self.line.text().strip()[:60],
            )
        return self.id

    def put(self, value: object) -> None:
        """Choose an id."""
        self.id = value if isinstance(value, int) else None
        words = ""
        if self.id is not None:
            with self.shop.ledger.read() as reading:
                words = self.picking.named(reading, self.id)
        self.show_text(words)

    def choose(self, subject_id: int) -> None:
        """Choose an id as a person does."""
        self.put(subject_id)
        self.on_typed()

    def on_text_edited(self, text: str) -> None:
        """Offer those that fit what is typed; none is chosen any more."""
        self.id = None
        super().on_text_edited(text)

    def offered(self, words: str) -> Sequence[tuple[int, str]]:
        """Give those that fit the words, and a new one of that name where one can be added."""
        found: Sequence[tuple[int, str]] = ()
        try:
            with self.shop.ledger.read() as reading:
                found = self.picking.find(reading, words, OFFERED)
        except LedgerError:
            found = ()
        new = self._new_words()
        also = [(_NEW, _("{act}: “{words}”").format(act=new, words=words))] if new else []
        return [*found, *also]

    def _new_words(self) -> str:
        """Give the words under which one goes who isn't in the ledger yet, or nothing."""
        if self.new_in is not None:
            return self.new_in
        act = self.shop.act(self.picking.new)
        return _(act.text) if act is not None else ""

    def choose_offered(self, number: int, words: str) -> None:
        """Choose one, or have a new one taken up."""
        if number != _NEW:
            self.choose(number)
            return
        typed = self.line.text().strip()
        self.found.hide()
        if self.new_in is not None:
            self.put(None)
            self.on_typed()
        self.wanted.emit(self, typed)
