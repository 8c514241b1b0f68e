"""Whether the window stands still while photographs are dropped into it, and how many are imported in a second.

The event loop is asked to come round every millisecond; how long it didn't is a gap. The longest gap of the same window
left alone is measured in the same run, since a busy machine makes gaps of its own.
"""

from __future__ import annotations

import gc
import io
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import TYPE_CHECKING

from tests.bench.measuring import Gap

if TYPE_CHECKING:
    from PIL import Image
    from PySide6.QtWidgets import QWidget

    from shopledger.desk.form import ActForm
    from shopledger.desk.pictures_input import PicturesInput
    from shopledger.desk.window import Frame

BOUND_MS = 50
TIMES = 5
MANY = 500


def one_photograph() -> Gap:
    """Drop a photograph of 12 megapixels into a form of the real window, some times, and give the longest gap."""
    with TemporaryDirectory() as folder, _window(Path(folder)) as frame:
        paths = [Path(folder) / f"cello {n}.jpg" for n in range(TIMES)]
        for n, path in enumerate(paths):
            path.write_bytes(_photograph(4000, 3000, n))
        size = sum(path.stat().st_size for path in paths) / TIMES / 1_000_000
        idle = _longest_gap(_for_seconds(1.0))
        longest = took = 0.0
        for path in paths:
            form = _form(frame)
            pictures = _pictures(form)
            begun = perf_counter()
            _drop(form, [path])
            longest = max(
                longest,
                _longest_gap(lambda pictures=pictures: bool(pictures.names) and not pictures.preparing.busy),
            )
            took = max(took, perf_counter() - begun)
            assert pictures.names == [path.name], pictures.left_out.sentences
            _leave(frame)
    words = f"a photograph of 12 megapixels ({size:.1f} MB) dropped, ready in {took * 1000:.0f} ms"
    return Gap(words, longest, idle, BOUND_MS)


def many_photographs() -> Gap:
    """Drop 500 photographs of 3 megapixels into a form and add them; give the longest gap, with the rates.

    What comes after it, when the page is read anew as after every act, is no part of the gap and told for itself.
    """
    import resource

    with TemporaryDirectory() as folder, _window(Path(folder)) as frame:
        paths = [Path(folder) / f"view {n}.jpg" for n in range(MANY)]
        base = _texture(2000, 1500)
        for n, path in enumerate(paths):
            path.write_bytes(_file(base, n))
        idle = _longest_gap(_for_seconds(1.0))
        form = _form(frame)
        pictures = _pictures(form)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        begun = perf_counter()
        _drop(form, paths)
        longest = _longest_gap(lambda: bool(pictures.names) and not pictures.preparing.busy)
        ready = perf_counter() - begun
        assert len(pictures.names) == MANY, pictures.left_out.sentences
        done: list[object] = []
        form.done.connect(done.append)
        begun = perf_counter()
        form.on_do_clicked()
        gaps = _gaps(lambda: bool(done))
        kept = perf_counter() - begun
        longest, page = max(longest, *gaps[:-1]), gaps[-1]
        more = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    rates = f"{MANY / ready:.0f} a second prepared, {MANY / kept:.0f} kept, {more:.0f} MB more, page in {page:.0f} ms"
    return Gap(f"{MANY} photographs of 3 megapixels imported: {rates}", longest, idle, BOUND_MS)


@contextmanager
def _window(folder: Path) -> Iterator[Frame]:
    """Give the real window on a ledger with one cello, its page shown."""
    from shopledger.acts import act, do, new_op_id
    from shopledger.desk.palette import Scheme
    from shopledger.desk.start import look_for_garbage_again
    from shopledger.desk.style import application, dress
    from shopledger.desk.window import Frame
    from shopledger.desk.wiring import wire
    from shopledger.desk.work import Work
    from shopledger.queries.shapes import Subject
    from shopledger.store.new_ledger import NewShop, create_ledger

    app = application()
    dress(app, Scheme.LIGHT)
    shop = NewShop(name="Bench Shop", currency="USD", address="1 Quay Street")
    with create_ledger(folder / "shop.ledger", shop) as ledger:
        cello = do(
            ledger,
            act("take_in"),
            act("take_in").form(
                op_id=new_op_id(), on=ledger.today(), instrument={"kind": "cello"}, stay={"reason": "own"}
            ),
        )
        work = Work()
        frame = Frame(wire(ledger), work, Scheme.LIGHT)
        frame.resize(1280, 720)
        frame.show()
        app.processEvents()
        look_for_garbage_again()
        frame.open_subject(Subject.INSTRUMENT, cello.id)
        yield frame
        gc.unfreeze()
        work.close()
        frame.hide()
        frame.deleteLater()
        app.processEvents()


def _form(frame: Frame) -> ActForm:
    """Open the form that adds photographs, and let it be painted."""
    from PySide6.QtWidgets import QApplication

    from shopledger.desk.place import Place

    place = frame.shown
    assert isinstance(place, Place)
    act = frame.shop.act("add_pictures")
    assert act is not None
    form = place.side.open_act(act)
    assert form is not None
    for _round in range(5):
        QApplication.processEvents()
    return form


def _pictures(form: ActForm) -> PicturesInput:
    from shopledger.desk.pictures_input import PicturesInput

    found = form.grid.cells["pictures"].input
    assert isinstance(found, PicturesInput)
    return found


def _leave(frame: Frame) -> None:
    from shopledger.desk.place import Place

    assert isinstance(frame.shown, Place)
    frame.shown.side.on_top_left()


def _drop(form: QWidget, paths: list[Path]) -> None:
    """Have files dropped when the event loop comes round, as the system would."""
    from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QTimer, QUrl
    from PySide6.QtGui import QDragEnterEvent, QDropEvent
    from PySide6.QtWidgets import QApplication

    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])

    def dropped() -> None:
        copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        QApplication.sendEvent(form, QDragEnterEvent(QPoint(9, 9), copy, data, left, none))
        QApplication.sendEvent(form, QDropEvent(QPointF(9, 9), copy, data, left, none))

    QTimer.singleShot(20, dropped)


def _for_seconds(seconds: float) -> Callable[[], bool]:
    until = perf_counter() + seconds
    return lambda: perf_counter() > until


def _longest_gap(over: Callable[[], bool]) -> float:
    """Run the event loop until it is over, after a tenth of a second at least; give its longest gap in ms."""
    return max(_gaps(over))


def _gaps(over: Callable[[], bool]) -> list[float]:
    from PySide6.QtCore import QEventLoop, Qt, QTimer

    loop, timer = QEventLoop(), QTimer()
    timer.setTimerType(Qt.TimerType.PreciseTimer)
    begun = last = perf_counter()
    gaps: list[float] = []

    def tick() -> None:
        nonlocal last
        now = perf_counter()
        gaps.append((now - last) * 1000)
        last = now
        if now - begun > 0.1 and over():
            loop.quit()

    timer.timeout.connect(tick)
    timer.start(1)
    loop.exec()
    timer.stop()
    return gaps


def _texture(width: int, height: int) -> Image.Image:
    """Give a picture with about as much in it as a photograph: grain, shades and edges."""
    from PIL import Image

    grain = Image.effect_noise((width // 3, height // 3), 40).resize(
        (width, height), Image.Resampling.BILINEAR
    )
    shade = Image.linear_gradient("L").resize((width, height))
    return Image.merge("RGB", (grain, Image.blend(grain, shade, 0.5), shade))


def _file(base: Image.Image, n: int) -> bytes:
    from PIL import Image

    choose = random.Random(n)
    image = base.copy()
    image.paste(
        Image.new("RGB", (64, 64), tuple(choose.randrange(256) for _colour in range(3))), (n % 900, 40)
    )
    exif = Image.Exif()
    exif[0x0112] = 6
    content = io.BytesIO()
    image.save(content, "JPEG", quality=90, exif=exif)
    return content.getvalue()


def _photograph(width: int, height: int, n: int) -> bytes:
    return _file(_texture(width, height), n)
