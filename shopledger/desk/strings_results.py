"""What comes of a set of strings, as the page shows it: figures, what is wanted, what changes, how sure it is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from shopledger.desk.fonts import LARGE, SMALL, TEXT, sans, serif
from shopledger.desk.labels import CELL, STEP, Hairline, label
from shopledger.quantities.figures import Figure, show_figure
from shopledger.quantities.forces import newtons_in
from shopledger.quantities.manners import Manners
from shopledger.quantities.words import _
from shopledger.rules.bridge import Geometry
from shopledger.rules.strings_answer import ASSUMED, CAUTION
from shopledger.rules.strings_change import Change, SetUpChange, Uncertain
from shopledger.rules.strings_wanted import LONGEST_MM, SHORTEST_MM, Reached, WantedLoad
from shopledger.rules.strings_work import Worked


class Told:
    """Says figures in the unit and the manners that are wished."""

    def __init__(self, worked: Worked, manners: Manners) -> None:
        """Take what is to be said, and how."""
        self.worked, self._manners = worked, manners

    def force(self, newtons: float) -> str:
        """Give a force in the unit chosen."""
        unit = self.worked.unit
        return self._shown(newtons_in(newtons, unit), 2, unit.value)

    def angle(self, degrees: float) -> str:
        """Give an angle."""
        return self._shown(degrees, 2, "°")

    def length(self, mm: float) -> str:
        """Give a length."""
        return self._shown(mm, 2, "mm")

    def hz(self, hz: float) -> str:
        """Give a frequency."""
        return self._shown(hz, 2, "Hz")

    def share(self, change: Change) -> str:
        """Give by how much a figure changed, in per cent with its sign; nothing where there was none before."""
        share = change.by_share
        if share is None:
            return ""
        sign = "+" if share > 0 else ""
        return sign + self._shown(share * 100, 2, "%")

    def _shown(self, number: float, decimals: int, unit: str) -> str:
        return show_figure(Figure(number, decimals, unit), self._manners)


def reached_words(reached: Reached, told: Told) -> str:
    """Give in a sentence what gives that which is wanted, within which limits it was looked for."""
    set_up, over = reached.set_up, reached.set_up.over
    force = told.force(reached.wanted.newtons)
    if not isinstance(reached.wanted, WantedLoad):
        return _(
            "A tension of {force} has the string length {length}, at the same pitches; looked for between"
            " {shortest} and {longest}."
        ).format(
            force=force,
            length=told.length(set_up.length_mm),
            shortest=told.length(SHORTEST_MM),
            longest=told.length(LONGEST_MM),
        )
    if isinstance(over, Geometry):
        return _(
            "A load of {force} has the bridge top at {height}, the angle then {angle}, the string length {length};"
            " looked for from the straight line up to twice the height given."
        ).format(
            force=force,
            height=told.length(over.bridge_top.height_mm),
            angle=told.angle(set_up.angle_deg),
            length=told.length(set_up.length_mm),
        )
    return _("A load of {force} has an angle of {angle}, at these tensions.").format(
        force=force, angle=told.angle(set_up.angle_deg)
    )


def uncertain_words(uncertain: Uncertain, told: Told) -> str:
    """Give how far the load may be off, and which figure does most of it."""
    if not uncertain.parts:
        return _("Nothing is said to be off.")
    worst = max(uncertain.parts, key=lambda part: part.newtons)
    return _(
        "The load is {load}, give or take {likely}; at worst {worst}. Most of it comes from: {what}."
    ).format(
        load=told.force(uncertain.load_n),
        likely=told.force(uncertain.likely_n),
        worst=told.force(uncertain.at_worst_n),
        what=_(worst.words),
    )


class StringsResults(QWidget):
    """The results of one moment; a new one is made for the next."""

    def __init__(self, told: Told, lacking: Sequence[str] = (), parent: QWidget | None = None) -> None:
        """Lay out what can be told; `lacking` are the words of the figures that are missing or wrong."""
        super().__init__(parent)
        self.setObjectName("strings_results")
        worked = told.worked
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(STEP)
        if worked.pull is None or worked.set_up is None:
            said = _("Here stands what the strings do, once these are filled in and right: {names}.")
            self._say(said.format(names=", ".join(dict.fromkeys(lacking))), "quiet")
            self._box.addWidget(label(_(CAUTION), tone="ochre"))
            return
        pull = worked.pull
        rows = [
            (each.pitch, told.hz(each.hz), told.force(each.tension_n), told.force(each.load_n))
            for each in pull.strings
        ]
        whole = (_("all"), "", told.force(pull.tension_n), told.force(pull.load_n))
        self._table((_("String"), "", _("Tension"), _("Load")), [*rows, whole], "pull")
        self._say(
            _("String length {length}, angle over the bridge {angle}").format(
                length=told.length(pull.length_mm), angle=told.angle(pull.angle_deg)
            ),
            "quiet",
        )
        if worked.uncertain is not None:
            self._head(_("How sure that is"))
            self._say(uncertain_words(worked.uncertain, told))
        if worked.reached is not None:
            self._head(_("What is wanted"))
            self._say(reached_words(worked.reached, told))
        if worked.change is not None:
            self._changed(worked.change, told)
        self._box.addSpacing(CELL)
        self._say(_(CAUTION), "ochre")
        self._say(_(ASSUMED), "quiet", small=True)

    def _changed(self, change: SetUpChange, told: Told) -> None:
        self._head(_("What the change does"))
        parts = [(each.pitch, each.tension_n, each.load_n) for each in change.strings]
        rows = [
            (
                words,
                *(
                    f"{told.force(one.before)} \u2192 {told.force(one.after)}  {told.share(one)}".rstrip()
                    for one in (tension, load)
                ),
            )
            for words, tension, load in [*parts, (_("all"), change.tension_n, change.load_n)]
        ]
        self._table((_("String"), _("Tension"), _("Load")), rows, "change")

    def _head(self, words: str) -> None:
        self._box.addSpacing(CELL)
        self._box.addWidget(label(words, font=serif(LARGE)))

    def _say(self, words: str, tone: str = "", *, small: bool = False) -> None:
        self._box.addWidget(label(words, font=sans(SMALL if small else TEXT), tone=tone, select=True))

    def _table(self, heads: Sequence[str], rows: Sequence[Sequence[str]], name: str) -> None:
        """Set figures in columns, at the right edge of each; the last row is the sum."""
        body = QWidget()
        body.setObjectName(f"table.{name}")
        grid = QGridLayout(body)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(CELL)
        grid.setVerticalSpacing(STEP)
        right = Qt.AlignmentFlag.AlignRight
        for column, words in enumerate(heads):
            head = label(words, font=sans(SMALL), tone="quiet", wrap=False)
            grid.addWidget(head, 0, column, right if column else Qt.AlignmentFlag.AlignLeft)
            grid.setColumnStretch(column, 1 if column else 0)
        for n, row in enumerate(rows):
            last = n == len(rows) - 1
            grid.addWidget(Hairline(), 2 * n + 1, 0, 1, len(heads))
            for column, words in enumerate(row):
                cell = label(words, font=sans(TEXT, strong=last), wrap=False, select=True)
                cell.setObjectName(f"{name}.{n}.{column}")
                cell.setAccessibleName(f"{row[0]} {heads[column]} {words}")
                grid.addWidget(cell, 2 * n + 2, column, right if column else Qt.AlignmentFlag.AlignLeft)
        self._box.addWidget(body)
