"""Pictures of every screen and every paper, to look at: `python -m tests.pictures DIR [--scale 2]`.

The screens are those of the real window on the example shop, built for this in a folder of its own; the papers are the
samples of the tests (an ordinary, a long and an empty case of each kind) and one of each kind of the example shop.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from shopledger.desk.form import ActForm
    from shopledger.desk.place import Place
    from shopledger.desk.window import Frame
    from shopledger.store.unit import Reading

SMALL, LARGE = (1280, 720), (1920, 1200)


@click.command(help=__doc__)
@click.argument("directory", type=click.Path(file_okay=False, path_type=Path))
@click.option("--scale", type=click.Choice(["1", "2"]), default="1", help="The scale of the screen.")
@click.option("--no-papers", is_flag=True, help="The screens only.")
def pictures(directory: Path, scale: str, no_papers: bool) -> None:
    """Draw all pictures into a folder."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    os.environ["QT_SCALE_FACTOR"] = scale
    directory.mkdir(parents=True, exist_ok=True)
    from shopledger.desk.style import application

    app = application()
    with tempfile.TemporaryDirectory() as scratch:
        from shopledger.example.building import build

        built = build(Path(scratch) / "example")
        draw_screens(app, directory, built.ledger, Path(scratch))
        if not no_papers:
            draw_papers(directory / "papers", built.papers)
    click.echo(f"{len(list(directory.rglob('*.png')))} pictures in {directory}")


class Camera:
    """Takes pictures of widgets under names that begin with the scheme."""

    def __init__(self, directory: Path, scheme: str) -> None:
        self.directory, self.scheme = directory, scheme

    def take(self, widget: QWidget, name: str) -> None:
        settle()
        widget.grab().save(str(self.directory / f"{name}-{self.scheme}.png"))


def settle() -> None:
    """Let everything be laid out and painted that waits for it."""
    from PySide6.QtCore import QCoreApplication, QEvent

    for _round in range(4):
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@contextmanager
def frame_on(where: Path, size: tuple[int, int], dark: bool) -> Iterator[Frame]:
    """Give the frame of a ledger, shown at a size, as on the last day of the example's story."""
    from shopledger.desk.palette import Scheme
    from shopledger.desk.window import Frame
    from shopledger.desk.wiring import wire
    from shopledger.desk.work import Work
    from shopledger.example.shop import LAST_DAY
    from shopledger.store.ledger import open_ledger

    work = Work()
    with open_ledger(where, clock=lambda: datetime.combine(LAST_DAY, time(15), UTC)) as ledger:
        frame = Frame(wire(ledger), work, Scheme.DARK if dark else Scheme.LIGHT)
        frame.resize(*size)
        frame.show()
        yield frame
        frame.hide()
        frame.deleteLater()
        settle()
    work.close()


def draw_screens(app: object, directory: Path, example: Path, scratch: Path) -> None:
    """Draw every screen, light and dark."""
    from PySide6.QtWidgets import QApplication

    from shopledger.desk.palette import Scheme
    from shopledger.desk.style import dress
    from shopledger.store.new_ledger import NewShop, create_ledger

    assert isinstance(app, QApplication)
    empty = scratch / "empty.ledger"
    create_ledger(
        empty, NewShop(name="Saltmere Strings", currency="EUR", address="3 Ropewalk, Saltmere")
    ).close()
    for dark in (False, True):
        dress(app, Scheme.DARK if dark else Scheme.LIGHT)
        camera = Camera(directory, "dark" if dark else "light")
        for size in (SMALL, LARGE):
            with frame_on(example, size, dark) as frame:
                draw_places(camera, frame, f"{size[0]}")
                draw_strings(camera, frame, f"{size[0]}")
        with frame_on(example, SMALL, dark) as frame:
            draw_forms(camera, frame)
            draw_materials(camera, frame)
            draw_counts(camera, frame)
            draw_reports(camera, frame)
            draw_trials(camera, frame)
            draw_comparison(camera, frame)
            draw_paper_shown(camera, frame)
        with frame_on(empty, SMALL, dark) as frame:
            for name in ("today", "stock", "workshop", "sales", "people", "accounts", "settings"):
                frame.show_place(name)
                camera.take(frame, f"empty-{name}")
        draw_start(camera, scratch)
    dress(app, Scheme.LIGHT)


def place(frame: Frame, name: str) -> Place:
    from shopledger.desk.place import Place

    found = frame.show_place(name)
    assert isinstance(found, Place)
    settle()
    return found


def draw_places(camera: Camera, frame: Frame, width: str) -> None:
    """Draw the seven places, filled, and what one comes to in them."""
    from shopledger.desk.band import Band

    for name in ("today", "stock", "workshop", "sales", "people", "accounts", "settings"):
        frame.show_place(name)
        camera.take(frame, f"{name}-{width}")
    accounts = place(frame, "accounts")
    for n, table in enumerate(("journal", "balances", "owners")):
        accounts.choose_table(n)
        camera.take(frame, f"accounts-{table}-{width}")
    stock = place(frame, "stock")
    stock.pane.choose_view("all")
    stock.pane.view.choose(1)
    camera.take(frame, f"stock-sheet-{width}")
    band = stock.side.top.findChild(Band)
    if band is not None:
        band.setFocus()
        band.go(2)
        camera.take(frame, f"stock-band-{width}")
    stock.pane.search.setText("cello < 12000")
    stock.pane.flush()
    camera.take(frame, f"stock-narrowed-{width}")
    stock.pane.search.setText("zither")
    stock.pane.flush()
    camera.take(frame, f"stock-nothing-fits-{width}")
    stock.pane.search.clear()
    stock.pane.flush()
    frame.on_goto_wanted()
    camera.take(frame, f"goto-{width}")


def draw_strings(camera: Camera, frame: Frame, width: str) -> None:
    """Draw the page that reckons strings and bridge: with what is known, by heights, with an error, and empty."""
    from sqlalchemy import select

    from shopledger.desk.strings_view import StringsView
    from shopledger.model import SetupString
    from shopledger.queries.shapes import Subject

    with frame.shop.ledger.read() as reading:
        known = select(SetupString.instrument_id).where(SetupString.tension_mn.is_not(None))
        instrument = reading.session.scalar(known)
    assert instrument is not None
    frame.open_subject(Subject.INSTRUMENT, instrument)
    frame.on_strings_wanted()
    stock = place(frame, "stock")
    view = stock.side.top
    assert isinstance(view, StringsView)
    for name, value in (("wants", "load"), ("wanted", "230"), ("a4_then", "442")):
        view.grid.cells[name].input.put(value)
    view.grid.on_cell_changed()
    view.flush()
    camera.take(frame, f"strings-{width}")
    heights = {"over": "side", "nut_height": "8", "top_height": "91", "tail_height": "54"}
    for name, value in heights.items():
        view.grid.cells[name].input.put(value)
    view.grid.on_cell_changed()
    view.flush()
    camera.take(frame, f"strings-heights-{width}")
    view.grid.cells["tail_height"].input.put("a hand")
    view.flush()
    camera.take(frame, f"strings-error-{width}")
    view.left.emit()
    place(frame, "people").side.open_strings()
    camera.take(frame, f"strings-empty-{width}")
    place(frame, "people").side.top.left.emit()
    settle()


def draw_materials(camera: Camera, frame: Frame) -> None:
    """Draw the forms of materials, of a bow on record."""
    from sqlalchemy import select

    from shopledger.model import Component
    from shopledger.queries.shapes import Subject

    with frame.shop.ledger.read() as reading:
        instrument = reading.session.scalar(select(Component.instrument_id).order_by(Component.id))
    assert instrument is not None
    frame.open_subject(Subject.INSTRUMENT, instrument)
    stock = place(frame, "stock")
    for name in ("record_materials", "state_materials"):
        form = opened(frame, stock, name)
        camera.take(frame, f"form-{name.replace('_', '-')}")
        form.left.emit()
        settle()


def draw_counts(camera: Camera, frame: Frame) -> None:
    """Draw the page of a count that has ended, one that is begun and ticked in, and the schedule of custody."""
    from shopledger.desk.count_view import CountView
    from shopledger.queries.counting import count_going_on
    from shopledger.queries.shapes import Subject

    frame.open_subject(Subject.STOCK_TAKE, 1)
    camera.take(frame, "count-ended")
    stock = place(frame, "stock")
    with frame.shop.ledger.read() as reading:
        going = count_going_on(reading)
        key = 0 if going is None else going.id
    if not key:
        form = opened(frame, stock, "begin_count")
        form.flush_preview()
        camera.take(frame, "form-begin-count")
        _do(form)
        assert stock.side.subject is not None
        key = stock.side.subject[1]
    frame.open_subject(Subject.STOCK_TAKE, key)
    camera.take(frame, "count-going-on")
    stock.side.open_count(key)
    view = stock.side.top
    assert isinstance(view, CountView)
    for name, code in (("unexpected", "21"), ("seen", "No. 010"), ("unknown", "=1+1")):
        view.line.setText(code)
        view.on_code_scanned()
        while frame.work.busy:
            settle()
        camera.take(frame, f"count-{name}")
    view.left.emit()
    settle()
    listing = frame.shop.act("print_custody_list")
    assert listing is not None
    frame.open_act(listing)
    camera.take(frame, "form-custody-list")
    place(frame, "accounts").side.top.left.emit()
    settle()


def draw_reports(camera: Camera, frame: Frame) -> None:
    """Draw two condition reports side by side, with a mark pointed out, and under one another what changed."""
    from PySide6.QtWidgets import QPushButton
    from sqlalchemy import func, select

    from shopledger.desk.condition_view import ConditionView
    from shopledger.model import ConditionReport, Picture
    from shopledger.queries.shapes import Subject

    told = ConditionReport.instrument_id
    with frame.shop.ledger.read() as reading:
        pictured = select(Picture.instrument_id)
        several = select(told).where(told.in_(pictured)).group_by(told).having(func.count() > 1)
        instrument = reading.session.scalar(several.order_by(func.count().desc()))
    assert instrument is not None
    frame.open_subject(Subject.INSTRUMENT, instrument)
    stock = place(frame, "stock")
    button = stock.side.top.findChild(QPushButton, "reports_beside")
    assert button is not None
    button.click()
    view = stock.side.top
    assert isinstance(view, ConditionView)
    while any(side.shots and side.large.image is None for side in view.sides):
        settle()
    camera.take(frame, "reports-beside")
    if view.rows:
        view.rows[0].setChecked(True)
    camera.take(frame, "reports-beside-mark")
    view.left.emit()
    settle()


def draw_trials(camera: Camera, frame: Frame) -> None:
    """Draw the trials that go on and are over, a page of each, and the forms of lending and of taking back."""
    from sqlalchemy import select

    from shopledger.model import Trial
    from shopledger.queries.shapes import Subject

    newest = select(Trial.id).order_by(Trial.id.desc())
    with frame.shop.ledger.read() as reading:
        over = reading.session.scalar(newest.where(Trial.ended_on.is_not(None)))
        out = reading.session.scalar(newest.where(Trial.ended_on.is_(None)))
    assert over is not None
    assert out is not None
    frame.open_subject(Subject.TRIAL, over)
    camera.take(frame, "trial-over")
    frame.open_subject(Subject.TRIAL, out)
    camera.take(frame, "trial-out")
    stock = place(frame, "stock")
    form = opened(frame, stock, "take_trial_back")
    form.flush_preview()
    camera.take(frame, "form-take-trial-back")
    form.left.emit()
    stock.choose_table(0)
    stock.pane.choose_view("own")
    with frame.shop.ledger.read() as reading:
        lendable = next(
            key
            for key in stock.pane.rows.ids
            if "lend_on_trial" in {act.name for act in frame.shop.next_acts(reading, Subject.INSTRUMENT, key)}
        )
    stock.pane.view.choose(lendable)
    form = opened(frame, stock, "lend_on_trial")
    player = form.grid.cell_at("trial.person_id")
    assert player is not None
    player.input.put(3)
    player.input.on_typed()
    _do(form)
    camera.take(frame, "form-lend-refused")
    _write(form, "trial.due_on", "2026-12-10")
    form.flush_preview()
    camera.take(frame, "form-lend-preview")
    form.left.emit()
    settle()


def draw_comparison(camera: Camera, frame: Frame) -> None:
    """Draw an instrument by itself and four side by side, with what is carried with each."""
    from sqlalchemy import select

    from shopledger.desk.comparison_view import ComparisonView
    from shopledger.model import Instrument, Measurement
    from shopledger.queries.shapes import Subject

    measured = select(Measurement.instrument_id)
    with frame.shop.ledger.read() as reading:
        several = reading.session.scalars(
            select(Instrument.id)
            .where(Instrument.kind == "cello")
            .order_by(Instrument.id.in_(measured).desc())
        ).all()[:4]
        bow = reading.session.scalar(select(Instrument.id).where(Instrument.kind == "bow"))
    assert several
    assert bow is not None
    frame.open_subject(Subject.INSTRUMENT, several[0])
    stock = place(frame, "stock")
    stock.side.open_comparison(several[0])
    view = stock.side.top
    assert isinstance(view, ComparisonView)
    camera.take(frame, "comparison-one")
    view.show_beside(*(frame.shop.as_wanted(one) for one in several), with_it=(bow,))
    camera.take(frame, "comparison-four")
    view.left.emit()
    settle()


def opened(frame: Frame, where: Place, act: str) -> ActForm:
    found = frame.shop.act(act)
    assert found is not None
    form = where.side.open_act(found)
    assert form is not None, frame.message.text()
    settle()
    return form


def draw_forms(camera: Camera, frame: Frame) -> None:
    """Draw forms: empty, with the reckoning beside them, with an error at a field, asking before leaving."""
    from shopledger.desk.nested import RowsInput

    stock = place(frame, "stock")
    form = opened(frame, stock, "take_in")
    camera.take(frame, "form-take-in")
    _do(form)
    camera.take(frame, "form-take-in-refused")
    form.left.emit()
    with frame.shop.ledger.read() as reading:
        offered = {
            key: {act.name for act in frame.shop.next_acts(reading, stock.pane.table.subject, key)}
            for key in stock.pane.rows.ids
        }
        # Consigned, under signed terms that run.
        sellable = next(
            key
            for key, names in offered.items()
            if {"sell", "renew"} <= names and "sign" not in names and _runs(reading, key)
        )
    stock.pane.view.choose(sellable)
    form = opened(frame, stock, "sell")
    camera.take(frame, "form-sell")
    form.grid.cells["buyer_id"].input.put(3)
    _write(form, "lines[0].price", "9,000.00")
    costs = form.grid.cells["costs"].input
    assert isinstance(costs, RowsInput)
    next(fold for fold in form.grid.folds.values() if fold.isAncestorOf(costs)).open()
    costs.on_add_clicked()
    _write(form, "costs[0].what", "new bridge")
    _write(form, "costs[0].amount", "180.00")
    form.flush_preview()
    camera.take(frame, "form-sell-reckoning")
    _write(form, "costs[0].amount", "18o")
    form.on_do_clicked()
    form.flush_preview()
    camera.take(frame, "form-sell-error")
    form.on_leave_clicked()
    camera.take(frame, "form-sell-asks")
    frame.resize(*LARGE)
    camera.take(frame, "form-sell-large")
    frame.resize(*SMALL)
    form.left.emit()
    settle()
    draw_draft_shown(camera, frame)


def _runs(reading: Reading, instrument_id: int) -> bool:
    """Say whether the agreement about an instrument has not run out."""
    from shopledger.queries.standing import last_agreement, last_stay

    stay = last_stay(reading, instrument_id)
    agreed = None if stay is None else last_agreement(reading, stay.id)
    return agreed is not None and not agreed.ran_out(reading.ledger.today())


def draw_draft_shown(camera: Camera, frame: Frame) -> None:
    """Draw the papers of a sale before it is made."""
    from shopledger.desk.draft_view import DraftView

    stock = place(frame, "stock")
    form = opened(frame, stock, "sell")
    form.grid.cells["buyer_id"].input.put(3)
    form.on_paper_clicked()
    while form.busy:
        settle()
    settle()
    view = stock.side.top
    assert isinstance(view, DraftView), form.bar.error.text()
    camera.take(frame, "draft-shown")
    view.on_back_clicked()
    camera.take(frame, "draft-left")
    form.left.emit()
    settle()


def _do(form: ActForm) -> None:
    form.on_do_clicked()
    while form.busy:
        settle()


def _write(form: ActForm, path: str, text: str) -> None:
    from PySide6.QtWidgets import QLineEdit

    cell = form.grid.cell_at(path)
    assert cell is not None, path
    line = cell.input.findChild(QLineEdit)
    assert isinstance(line, QLineEdit)
    line.setText(text)
    cell.input.on_typed()


def draw_paper_shown(camera: Camera, frame: Frame) -> None:
    """Draw a paper shown inside the window."""
    sales = place(frame, "sales")
    paper = frame.shop
    with paper.ledger.read() as reading:
        sheet = paper.sheets[sales.pane.table.subject](reading, sales.pane.rows.ids[0])
    sales.side.open_paper(sheet.papers[-1].id)
    camera.take(frame, "paper-shown")


def draw_start(camera: Camera, scratch: Path) -> None:
    """Draw the first start, its refusals, and a ledger that can't be opened."""
    from shopledger.desk.first_start import FirstStart
    from shopledger.desk.remembered import Remembered
    from shopledger.desk.start import House
    from shopledger.desk.wiring import wire

    house = House(Remembered(scratch / "window.json"), wire, Path("Documents"))
    house.resize(*SMALL)
    house.show()
    house.begin(None)
    camera.take(house, "first-start")
    page = house.page
    assert isinstance(page, FirstStart)
    page.on_make_clicked()
    camera.take(house, "first-start-refused")
    damaged = scratch / "damaged.ledger"
    damaged.write_bytes(b"no ledger at all" * 400)
    house.begin(str(damaged))
    camera.take(house, "trouble")
    house.close()
    house.deleteLater()
    settle()


def draw_papers(directory: Path, issued: tuple[Path, ...]) -> None:
    """Draw the sample papers, and one of each kind of the example shop, page by page."""
    from tests.papers.samples import empty, long, ordinary, rendered

    directory.mkdir(parents=True, exist_ok=True)
    for case, samples in (("ordinary", ordinary()), ("long", long()), ("empty", empty())):
        for kind, facts in samples.items():
            draw_pages(rendered(kind, facts), directory / f"{kind}-{case}")
    seen = set()
    for path in issued:
        series = path.name.split("_")[0]
        if series not in seen:
            seen.add(series)
            draw_pages(path.read_bytes(), directory / f"example-{path.stem}")


def draw_pages(content: bytes, name: Path) -> None:
    """Draw every page of a PDF."""
    from pypdfium2 import PdfDocument

    document = PdfDocument(content)
    for n, page in enumerate(document, start=1):
        page.render(scale=1.5).to_pil().save(f"{name}-{n}.png")
        page.close()
    document.close()


if __name__ == "__main__":
    pictures()
