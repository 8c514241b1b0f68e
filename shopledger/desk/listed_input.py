"""Words that are chosen from a list for a kind of instrument: those that fit what is typed stand under the line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent

from shopledger.desk.finding import OFFERED, FindingInput
from shopledger.desk.input import Wrong
from shopledger.quantities.fields import Field
from shopledger.quantities.words import _


class ListedInput(FindingInput):
    """A line to type in; other words than those of the list may stand in it until the act says what would be right."""

    def __init__(self, field: Field, path: str) -> None:
        """Start empty, for any kind of instrument."""
        super().__init__(path, _("type, or arrow down"))
        assert field.listed is not None
        self._listed = field.listed
        self._kind = ""
        self.left.connect(self.found.hide)

    def words(self) -> dict[str, str]:
        """Give the words by their codes, in order."""
        return {code: _(word) for code, word in self._listed(self._kind)}

    def list_for(self, kind: str) -> None:
        """Offer the words of a kind of instrument; of all kinds where it is empty. What was chosen stays."""
        if kind == self._kind:
            return
        said = self.told()
        code = next((code for code, word in self.words().items() if word == said), None)
        self._kind = kind
        # Words that this kind doesn't have stay as they are, for the act to say what would be right.
        if code in self.words():
            self.put(code)

    def take(self, wrong: list[Wrong]) -> object:
        """Give what stands in the line."""
        return self.told() or None

    def put(self, value: object) -> None:
        """Show the words of a code, or other words as they are."""
        said = str(value or "")
        self.show_text(self.words().get(said, said))

    def offered(self, words: str) -> Sequence[tuple[int, str]]:
        """Give those of which a word each begins as typed; nothing where it is typed out."""
        wanted = words.casefold().split()
        fit = [
            (n, word)
            for n, word in enumerate(self.words().values())
            if all(any(one.startswith(part) for one in word.casefold().split()) for part in wanted)
        ]
        return () if [word.casefold() for _n, word in fit] == [words.casefold()] else fit[:OFFERED]

    def choose_offered(self, number: int, words: str) -> None:
        """Take the words."""
        self.show_text(words)
        self.on_typed()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The arrow down shows the whole list where nothing is typed."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.KeyPress
            and event.key() == Qt.Key.Key_Down
            and self.empty()
            and not self.found.isVisible()
        ):
            self.offer(list(enumerate(self.words().values())))
            return True
        return super().eventFilter(watched, event)
