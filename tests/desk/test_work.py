"""The worker: one thread, in order, told as it goes, stopped when asked, and gone at the end."""

from __future__ import annotations

from threading import Event, current_thread, main_thread
from typing import Any

from pytestqt.qtbot import QtBot

from shopledger.desk.work import Job, Stopped, Work


def test_work_is_done_on_another_thread_and_told_on_the_windows_own(qtbot: QtBot, work: Work) -> None:
    seen: dict[str, bool] = {}

    def run(_job: Job) -> int:
        seen["run"] = current_thread() is main_thread()
        return 41

    def then(result: int) -> None:
        seen["then"] = current_thread() is main_thread()
        seen["right"] = result == 41

    with qtbot.waitSignal(work.ended):
        work.do(Job("Counting", run, then, lambda error: None))
    assert seen == {"run": False, "then": True, "right": True}


def test_jobs_run_one_after_another_in_their_order(qtbot: QtBot, work: Work) -> None:
    done: list[int] = []
    for n in range(20):
        work.do(Job("", lambda _job, n=n: n, done.append, lambda error: None))
    assert work.busy
    qtbot.waitUntil(lambda: not work.busy)
    assert done == list(range(20))


def test_a_job_tells_how_far_it_is_and_stops_when_asked(qtbot: QtBot, work: Work) -> None:
    told: list[tuple[int, int]] = []
    errors: list[Exception] = []
    half, go_on = Event(), Event()

    def run(job: Job) -> None:
        for n in range(10):
            job.step(n, 10)
            if n == 5:
                half.set()
                go_on.wait(10)

    work.stepped.connect(lambda _job, done, of: told.append((done, of)))
    job = work.do(Job("Importing", run, lambda result: None, errors.append))
    half.wait(10)
    work.cancel(job)
    with qtbot.waitSignal(work.ended):
        go_on.set()
    assert told == [(n, 10) for n in range(6)]
    assert isinstance(errors[0], Stopped)
    assert "as it was before" in errors[0].sentence()


def test_an_error_is_handed_over_and_the_next_job_still_runs(qtbot: QtBot, work: Work) -> None:
    errors: list[Exception] = []
    done: list[Any] = []
    work.do(Job("", lambda _job: 1 // 0, done.append, errors.append))
    work.do(Job("", lambda _job: "fine", done.append, errors.append))
    qtbot.waitUntil(lambda: not work.busy)
    assert [type(error) for error in errors] == [ZeroDivisionError]
    assert done == ["fine"]


def test_closing_ends_the_thread_and_work_can_begin_anew(qtbot: QtBot, work: Work) -> None:
    done: list[int] = []
    for n in (1, 2):
        with qtbot.waitSignal(work.ended):
            work.do(Job("", lambda _job, n=n: n, done.append, lambda error: None))
        work.close()
        assert work._worker is None
    assert done == [1, 2]
