"""The right side of a place: the sheet of what is selected, and over it the forms and papers that were opened.

Forms and papers lie on each other like papers on a desk; leaving one shows what lay under it. What a sheet, a form and
a paper are made of is loaded when the first of them is shown, so that the first table comes sooner.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData, Qt, Signal
from PySide6.QtWidgets import QPushButton, QStackedWidget, QWidget

from shopledger.desk.errors import sentence
from shopledger.desk.lying import Lying
from shopledger.desk.shop import AnyAct, Shop
from shopledger.desk.words_page import WordsPage
from shopledger.desk.work import Work
from shopledger.quantities.errors import LedgerError
from shopledger.quantities.fields import Kind, inputs
from shopledger.quantities.words import _
from shopledger.queries.shapes import Subject

if TYPE_CHECKING:
    from shopledger.acts.declare import Outcome
    from shopledger.desk.draft_view import Draft
    from shopledger.desk.form import ActForm
    from shopledger.desk.picker import PickerInput
    from shopledger.desk.sheet import SheetView
    from shopledger.queries.sheet_shapes import Mark, Shot


class Side(QStackedWidget):
    """What lies on the right."""

    done = Signal(object)
    """An act was done here; its Outcome."""
    subject_wanted = Signal(object, int)
    """(subject, id): something is to be shown in its own place."""
    room_wanted = Signal(bool)
    """Whether a form or paper lies here, for which the table may draw back."""
    said = Signal(str)
    """Something to tell in the line at the foot of the window."""

    def __init__(self, shop: Shop, work: Work, parent: QWidget | None = None) -> None:
        """Start with an empty page."""
        super().__init__(parent)
        self.shop, self._work = shop, work
        self.subject: tuple[Subject, int] | None = None
        self._sheet: SheetView | None = None
        self._waiting: dict[QWidget, PickerInput] = {}
        self.addWidget(WordsPage("", ""))

    @property
    def top(self) -> QWidget:
        """What lies uppermost."""
        found = self.currentWidget()
        assert found is not None
        return found

    def unsaved(self) -> bool:
        """Whether a form with something typed lies here."""
        pages = (self.widget(n) for n in range(self.count()))
        return any(isinstance(page, Lying) and page.touched() for page in pages)

    def ask_to_leave(self) -> None:
        """Have the uppermost form ask whether what was typed may go."""
        if isinstance(self.top, Lying):
            self.top.ask_to_leave()

    def show_words(self, title: str, words: str, acts: tuple[AnyAct, ...] = (), tone: str = "quiet") -> None:
        """Show a page of words at the bottom of the pile."""
        page = WordsPage(title, words, acts, tone)
        page.act_wanted.connect(self.open_act)
        self.subject, self._sheet = None, None
        self._put_base(page)

    def show_page(self, page: QWidget) -> None:
        """Show a page that is about nothing of the tables at the bottom of the pile."""
        self.subject, self._sheet = None, None
        self._put_base(page)

    def show_subject(self, subject: Subject, subject_id: int) -> None:
        """Show the sheet of a thing at the bottom of the pile."""
        from shopledger.desk.sheet import SheetView

        try:
            with self.shop.ledger.read() as reading:
                sheet = self.shop.sheets[subject](reading, subject_id)
                acts = self.shop.next_acts(reading, subject, subject_id)
        except LedgerError as error:
            self.show_words(
                _("This can't be shown"), sentence(error, self.shop.ledger.manners), tone="madder"
            )
            return
        view = SheetView(self.shop, sheet, acts)
        view.act_wanted.connect(self.open_act)
        view.paper_wanted.connect(self.open_paper)
        view.mark_wanted.connect(self.on_mark_opened)
        view.strings_wanted.connect(self.open_strings)
        view.photograph_wanted.connect(self.open_photograph)
        view.files_dropped.connect(self.on_files_dropped)
        view.comparison_wanted.connect(self.open_comparison)
        view.reports_wanted.connect(self.open_reports)
        view.count_wanted.connect(self.open_count)
        # The same thing read again stays where it was scrolled to.
        same = self._sheet is not None and self.subject == (subject, subject_id)
        kept = self._sheet.verticalScrollBar().value() if same and self._sheet is not None else 0
        self.subject, self._sheet = (subject, subject_id), view
        self._put_base(view)
        view.verticalScrollBar().setValue(kept)

    def read_again(self) -> None:
        """Read the sheet that lies here again."""
        if self.subject is not None:
            self.show_subject(*self.subject)

    def open_act(
        self, act: AnyAct, start: Mapping[str, object] | None = None, on: int | None = None
    ) -> ActForm | None:
        """Lay the form of an act on top; it acts on what is shown here, or on `on`."""
        from shopledger.desk.form import ActForm

        about, subject_id = "", 0
        if on is not None:
            subject_id = on
        elif self.subject is not None and act.subject is self.subject[0]:
            subject_id = self.subject[1]
            about = self._sheet.sheet.title if self._sheet is not None else ""
        try:
            form = ActForm(self.shop, self._work, act, subject_id, about, start)
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return None
        form.done.connect(lambda outcome: self.on_act_done(form, outcome))
        form.wanted.connect(self.on_new_wanted)
        form.drafted.connect(lambda drafts: self.on_drafts_drawn(form, drafts))
        self._push(form)
        return form

    def open_paper(self, paper_id: int) -> None:
        """Lay a paper on top."""
        from shopledger.desk.paper_view import PaperView

        try:
            with self.shop.ledger.read() as reading:
                row = self.shop.paper_row(reading, paper_id)
                lacks = self.shop.unprintable(reading, paper_id)
                csv = self.shop.paper_csv(reading, paper_id)
            content = self.shop.paper(self.shop.ledger, paper_id)
            view = PaperView(content, _(row.title), row.number, lacks, csv)
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        view.said.connect(self.said)
        self._push(view)

    def open_photograph(self, shots: Sequence[Shot], n: int) -> None:
        """Lay the n-th of these photographs on top, large."""
        from shopledger.desk.photograph_view import PhotographView

        about = self._sheet.sheet.title if self._sheet is not None else ""
        view = PhotographView(self.shop, shots, n, about)
        view.said.connect(self.said)
        self._push(view)

    def open_reports(self, before_id: int, after_id: int) -> None:
        """Lay two condition reports on top, side by side."""
        from shopledger.desk.condition_view import ConditionView

        about = self._sheet.sheet.title if self._sheet is not None else ""
        try:
            view = ConditionView(self.shop, before_id, after_id, about)
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        view.photograph_wanted.connect(self.open_photograph)
        self._push(view)

    def open_comparison(self, instrument_id: int) -> None:
        """Lay the view on top in which others are set beside an instrument."""
        from shopledger.desk.comparison_view import ComparisonView

        about = self._sheet.sheet.title if self._sheet is not None else ""
        try:
            view = ComparisonView(self.shop, instrument_id, about)
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        self._push(view)

    def open_strings(self, instrument_id: int = 0) -> None:
        """Lay the page on top that reckons strings and bridge, with what is known of an instrument, if one is told."""
        from shopledger.desk.strings_view import StringsView

        known: Mapping[str, object] = {}
        about = ""
        try:
            if instrument_id:
                with self.shop.ledger.read() as reading:
                    known = self.shop.strings_of(reading, instrument_id)
                about = self._sheet.sheet.title if self._sheet is not None else ""
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        self._push(StringsView(self.shop, known, about))

    def open_count(self, count_id: int) -> None:
        """Lay the view on top in which what is seen is ticked."""
        from shopledger.desk.count_view import CountView

        try:
            view = CountView(self.shop, self._work, count_id)
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        view.done.connect(self.done)
        view.act_wanted.connect(lambda act, start: self.open_act(act, start, on=count_id))
        self._push(view)

    def on_files_dropped(self, act: AnyAct, dropped: QMimeData) -> None:
        """Open the form that adds photographs to what is shown, with those that were dropped."""
        from shopledger.desk.pictures_input import PicturesInput

        form = self.open_act(act)
        if form is not None:
            for made in form.findChildren(PicturesInput)[:1]:
                made.add_dropped(dropped)

    def on_drafts_drawn(self, form: ActForm, drafts: Sequence[Draft]) -> None:
        """Lay the papers an act would leave over its form, unless something else lies there by now."""
        from shopledger.desk.draft_view import DraftView

        if self.top is not form:
            return
        try:
            view = DraftView(drafts, _(form.act.text))
        except LedgerError as error:
            self.said.emit(sentence(error, self.shop.ledger.manners))
            return
        self._push(view)

    def on_mark_opened(self, mark: Mark) -> None:
        """Open the paper behind a mark, else what it is about."""
        if mark.paper_id is not None:
            self.open_paper(mark.paper_id)
        elif mark.subject is not None:
            self.subject_wanted.emit(*mark.subject)

    def on_act_done(self, form: ActForm, outcome: Outcome) -> None:
        """Take the form away; one that lay under it, and waited for what was made, is given it."""
        picker = self._waiting.pop(form, None)
        self.on_top_left()
        if picker is not None:
            picker.choose(outcome.id)
        self.done.emit(outcome)

    def on_new_wanted(self, picker: PickerInput, words: str) -> None:
        """Lay the form for a new person or instrument over the form that lacks it."""
        act = self.shop.act(picker.picking.new)
        if act is None:
            return
        form = self.open_act(act, self._named(act, words), on=0)
        if form is not None:
            self._waiting[form] = picker

    def _named(self, act: AnyAct, words: str) -> dict[str, object]:
        """Give the words as the name of what an act adds, wherever its form asks for a name, or what it is."""
        from shopledger.desk.nested import fields_within

        start: dict[str, object] = {}
        for name, field in inputs(act.form).items():
            if name == "name":
                start[name] = words
            elif field.kind is Kind.GROUP:
                asked = fields_within(self.shop, field)
                named = {called: words for called in ("name", "what") if called in asked}
                start |= {name: named} if named else {}
        return start

    def on_top_left(self) -> None:
        """Take away what lies uppermost and show what is under it."""
        if self.count() < 2:
            return
        self._waiting.pop(self.top, None)
        free = self._keyboard_is_free()
        self._take_away(self.top)
        self.setCurrentIndex(self.count() - 1)
        if isinstance(self.top, Lying):
            self.top.take_keyboard()
        elif free:
            self._give_keyboard(self.top)
        self.room_wanted.emit(self.count() > 1)

    def _push(self, page: Lying) -> None:
        page.left.connect(self.on_top_left)
        self.addWidget(page)
        self.setCurrentWidget(page)
        self.room_wanted.emit(True)
        page.take_keyboard()

    def _put_base(self, page: QWidget) -> None:
        above = self.currentIndex() > 0
        free = self._keyboard_is_free()
        old = self.widget(0)
        self.insertWidget(0, page)
        if old is not None:
            self._take_away(old)
        if not above:
            self.setCurrentIndex(0)
            if free:
                self._give_keyboard(page)

    def _keyboard_is_free(self) -> bool:
        """Whether the keyboard is on what lies here, or nowhere since that went away."""
        at = self.window().focusWidget()
        return at is None or at is self or self.isAncestorOf(at)

    @staticmethod
    def _give_keyboard(page: QWidget) -> None:
        """Go to the first button of a page, where the next acts are; to the page itself where it has none."""
        first = next((one for one in page.findChildren(QPushButton) if one.isEnabled()), page)
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _take_away(self, page: QWidget) -> None:
        self.removeWidget(page)
        if isinstance(page, Lying):
            page.put_away()
        page.hide()
        page.deleteLater()
