"""The frame: seven places in a narrow list on the left, the place that is shown, and a quiet line at the foot."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from shopledger.desk.fonts import LARGE, sans, serif
from shopledger.desk.foot import Foot
from shopledger.desk.labels import CELL, Hairline, label
from shopledger.desk.palette import Scheme
from shopledger.desk.place import Place
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.side import Side
from shopledger.desk.work import Work
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.words import N_, _, count_words
from shopledger.queries.shapes import Subject

if TYPE_CHECKING:
    from shopledger.acts.declare import Outcome
    from shopledger.desk.goto import Goal, GoTo
    from shopledger.queries.due_lines import DueLine, Section

PLACES_PX = 132
PLACES = (
    ("today", N_("Today")),
    ("stock", N_("Stock")),
    ("workshop", N_("Workshop")),
    ("sales", N_("Sales")),
    ("people", N_("People")),
    ("accounts", N_("Accounts")),
    ("settings", N_("Settings")),
)
"""The seven places in their order; nothing else is navigation."""

HOME = {
    Subject.INSTRUMENT: "stock",
    Subject.JOB: "workshop",
    Subject.GOODS: "workshop",
    Subject.WORK: "workshop",
    Subject.TRIAL: "stock",
    Subject.STOCK_TAKE: "stock",
    Subject.WISH: "people",
    Subject.SALE: "sales",
    Subject.PERSON: "people",
    Subject.ENTRY: "accounts",
    Subject.ACCOUNT: "accounts",
}
"""In which place the rows of a subject stand."""


class Frame(QWidget):
    """The window's inside while a ledger is open."""

    scheme_chosen = Signal(object)
    """The palette was chosen in Settings; a Scheme."""
    _acts_changed = Signal()

    def __init__(self, shop: Shop, work: Work, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Lay out the places; each is made and read when it is first shown."""
        super().__init__(parent)
        self.shop, self.work = shop, work
        self.setObjectName("frame")
        self._scheme = scheme
        self._made: dict[str, QWidget] = {}
        self.places = QListWidget(self)
        self._stack = QStackedWidget(self)
        self._lay()
        self.places.currentRowChanged.connect(self.on_place_chosen)
        for n in range(len(PLACES)):
            made = QShortcut(f"Ctrl+{n + 1}", self)
            made.activated.connect(lambda n=n: self.places.setCurrentRow(n))
        find = QShortcut("Ctrl+F", self)
        find.activated.connect(self.on_find_wanted)
        go = QShortcut("Ctrl+K", self)
        go.activated.connect(self.on_goto_wanted)
        reckon = QShortcut("Ctrl+Shift+G", self)
        reckon.activated.connect(self.on_strings_wanted)
        work.began.connect(self.foot.on_work_began)
        work.stepped.connect(self.foot.on_work_stepped)
        work.ended.connect(self.foot.on_work_ended)

    def _lay(self) -> None:
        self.places.setProperty("weight", "places")
        self.places.setFont(sans())
        self.places.setFixedWidth(PLACES_PX)
        self.places.setObjectName("places")
        self.places.setAccessibleName(_("Places"))
        self.places.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for n, (name, text) in enumerate(PLACES):
            item = QListWidgetItem(_(text))
            item.setData(Qt.ItemDataRole.UserRole, name)
            item.setToolTip(f"Ctrl+{n + 1}")
            self.places.addItem(item)
        left = QVBoxLayout()
        left.setContentsMargins(0, CELL, 0, CELL)
        left.setSpacing(8)
        self._shop_name = self.shop.ledger.shop_name
        head = label(self._shop_name, font=serif(LARGE))
        head.setContentsMargins(20, 0, CELL, 4)
        head.setFixedWidth(PLACES_PX)
        left.addWidget(head)
        left.addWidget(self.places, 1)
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addLayout(left)
        middle.addWidget(Hairline(upright=True))
        middle.addWidget(self._stack, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addLayout(middle, 1)
        page.addWidget(Hairline())
        self.foot = Foot(self.work)
        page.addWidget(self.foot)

    @property
    def title(self) -> str:
        """The shop's name, for the window's title."""
        return self._shop_name

    def place(self, name: str) -> QWidget:
        """Give a place, loaded and made now if it wasn't yet."""
        if name not in self._made:
            self._made[name] = self._make(name)
            self._stack.addWidget(self._made[name])
        return self._made[name]

    def _make(self, name: str) -> QWidget:
        quiet = {"today": self._make_today, "settings": self._make_settings}
        if name in quiet:
            return quiet[name]()
        made = Place(self.shop, self.work, name, self.shop.tables[name], self._stack)
        made.done.connect(self.on_act_done)
        made.subject_wanted.connect(self.open_subject)
        made.said.connect(self.say)
        return made

    def _make_today(self) -> QWidget:
        from shopledger.desk import today

        made = today.make(self.shop)
        made.act_wanted.connect(self.open_act)
        made.line_wanted.connect(self.on_line_wanted)
        made.view_wanted.connect(self.on_view_wanted)
        self._acts_changed.connect(made.read_later)
        return made

    def _make_settings(self) -> QWidget:
        from shopledger.desk import settings

        made = settings.make(self.shop, self.work, self._scheme)
        made.scheme_chosen.connect(self.scheme_chosen)
        made.done.connect(self.on_act_done)
        made.said.connect(self.say)
        return made

    @property
    def shown(self) -> QWidget | None:
        """The place that is shown."""
        return self._stack.currentWidget()

    def show_place(self, name: str) -> QWidget:
        """Show a place by its name and give it."""
        self.places.setCurrentRow([known for known, _text in PLACES].index(name))
        return self.place(name)

    def open_subject(self, subject: Subject, subject_id: int) -> None:
        """Show a thing in its own place, selected."""
        home = self.place(HOME.get(subject, "stock"))
        if not isinstance(home, Place):
            return
        found = home.select(subject, subject_id)
        self.show_place(home.name)
        if not found:
            home.show_missing(subject, subject_id)

    def open_act(self, act: AnyAct) -> None:
        """Open an act's form in the place where it belongs."""
        from shopledger.desk.settings import SETS, Settings

        home = "settings" if act.name in SETS else HOME.get(act.subject, "")
        for name, offered in self.shop.tables.items():
            if not home and any(offer.load().first_act == act.name for offer in offered):
                home = name
        # What the shop does for itself alone, without a thing or a person, belongs to its books.
        place = self.show_place(home or "accounts")
        if isinstance(place, Place | Settings):
            place.open_act(act)

    def on_line_wanted(self, line: DueLine, with_act: bool) -> None:
        """Show the thing of a line of the day, and the form of the act it leads to where that is possible now."""
        if line.subject is Subject.SHOP:
            wanted = next((act for name in line.acts if (act := self.shop.act(name)) is not None), None)
            if wanted is not None:
                self.open_act(wanted)
            return
        self.open_subject(line.subject, line.key)
        if not with_act or not isinstance(self.shown, Place):
            return
        with self.shop.ledger.read() as reading:
            possible = {act.name: act for act in self.shop.next_acts(reading, line.subject, line.key)}
        act = next((possible[name] for name in line.acts if name in possible), None)
        if act is not None:
            self.shown.open_act(act)

    def on_view_wanted(self, section: Section) -> None:
        """Show all lines of a section of the day in the table where they stand."""
        place = self.show_place(section.place)
        if isinstance(place, Place):
            place.show_view(section.table, section.view)

    def say(self, words: str) -> None:
        """Say something in the line at the foot."""
        self.foot.say(words)

    @property
    def message(self) -> QLabel:
        """Where it is said."""
        return self.foot.message

    def unsaved(self) -> str:
        """Give the name of a place with a form in which something was typed, or nothing."""
        for name, made in self._made.items():
            side = getattr(made, "side", None)
            if isinstance(side, Side) and side.unsaved():
                return name
        return ""

    def on_place_chosen(self, row: int) -> None:
        """Show the place of a row of the list."""
        if row >= 0:
            self._stack.setCurrentWidget(self.place(PLACES[row][0]))

    def on_act_done(self, outcome: Outcome) -> None:
        """Have every place read again what changed, and show what the act left."""
        origin = self.sender()
        for made in self._made.values():
            if isinstance(made, Place):
                made.changed(outcome.changed)
        self._acts_changed.emit()
        papers = len(outcome.papers)
        done = _("Booked.")
        if papers:
            done += " " + count_words("{n} paper was issued.", "{n} papers were issued.", papers)
            done += self._lacking_words(outcome.papers)
        self.say(done)
        # A form that still waits on the pile (for the person just added) keeps the window where it is.
        waiting = isinstance(origin, Place) and origin.side.count() > 1
        if waiting:
            return
        if outcome.subject is not Subject.SHOP:
            self.open_subject(outcome.subject, outcome.id)
        elif outcome.papers and isinstance(origin, Place):
            origin.side.open_paper(outcome.papers[0])

    def _lacking_words(self, papers: Sequence[int]) -> str:
        """Give the words on papers with letters that can't be printed, or nothing."""
        try:
            with self.shop.ledger.read() as reading:
                some = [key for key in papers if self.shop.unprintable(reading, key)]
                numbers = ", ".join(self.shop.paper_row(reading, key).number for key in some)
        except LedgerError:
            # The act is done whatever may be read now; the paper says it when it is opened.
            return ""
        words = _("Some letters on {papers} can't be printed; the paper, once opened, says which.")
        return f" {words.format(papers=numbers)}" if some else ""

    def on_find_wanted(self) -> None:
        """Go to the line over the table."""
        if isinstance(self.shown, Place):
            self.shown.focus_search()

    def on_strings_wanted(self) -> None:
        """Reckon the strings of the instrument whose page is shown, or of none."""
        here, instrument = self.shown, 0
        if isinstance(here, Place) and here.side.subject is not None:
            subject, key = here.side.subject
            instrument = key if subject is Subject.INSTRUMENT else 0
        if not isinstance(here, Place):
            here = self.show_place("stock")
        assert isinstance(here, Place)
        here.side.open_strings(instrument)

    @cached_property
    def goto(self) -> GoTo:
        """The line to go anywhere from, made when it is first wanted."""
        from shopledger.desk.goto import GoTo

        made = GoTo(self)
        made.chosen.connect(self.on_goal_chosen)
        made.place_over(self)
        return made

    def on_goto_wanted(self) -> None:
        """Open the line to go anywhere from."""
        from shopledger.desk.goto import Goal

        goals = [Goal(_(text), f"Ctrl+{n + 1}", place=name) for n, (name, text) in enumerate(PLACES)]
        goals.append(Goal(_("Strings and bridge"), "Ctrl+Shift+G", strings=True))
        try:
            with self.shop.ledger.read() as reading:
                acts = list(self.shop.next_acts(reading, Subject.SHOP, 0))
                if isinstance(self.shown, Place) and self.shown.side.subject is not None:
                    acts[:0] = self.shop.next_acts(reading, *self.shown.side.subject)
        except LedgerError as error:
            self.say(error.sentence(self.shop.ledger.manners))
            return
        self.goto.open([*(Goal(_(act.text), act.shortcut, act=act) for act in acts), *goals], self._by_claim)

    def _by_claim(self, words: str) -> Sequence[Goal]:
        """Give the job of a claim number that is typed, or why there is none."""
        from shopledger.desk.goto import Goal

        try:
            with self.shop.ledger.read() as reading:
                found = self.shop.by_claim(reading, words)
        except LedgerError as error:
            return (Goal(error.sentence(self.shop.ledger.manners)),)
        return () if found is None else (Goal(found[1], subject=(Subject.JOB, found[0])),)

    def on_goal_chosen(self, goal: Goal) -> None:
        """Go to a place or a thing, or open the form of an act."""
        if goal.strings:
            self.on_strings_wanted()
        elif goal.subject is not None:
            self.open_subject(*goal.subject)
        elif goal.act is None:
            self.show_place(goal.place)
        elif (
            isinstance(self.shown, Place)
            and self.shown.side.subject is not None
            and (self.shown.side.subject[0] is goal.act.subject)
        ):
            self.shown.open_act(goal.act)
        else:
            self.open_act(goal.act)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the go-to line in the middle."""
        super().resizeEvent(event)
        if "goto" in self.__dict__:
            self.goto.place_over(self)
