"""Long work: the same once for all, different ones side by side, nothing held by those who leave."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import CancelledError
from typing import Any

import pytest

from app.session import work

Tell = Callable[[float, str], object]


def test_the_same_work_is_done_once() -> None:
    desk, go, begun = work.Desk(2), threading.Event(), []

    def slow(tell: Tell) -> str:
        begun.append(1)
        go.wait(10)
        return "done"

    tasks = [desk.ask("key", slow) for _ in range(5)]
    go.set()
    assert {task.future.result(10) for task in tasks} == {"done"}
    assert len(begun) == 1
    assert desk.known("key") == "done"
    assert desk.ask("key", slow).future.result(1) == "done"
    assert len(begun) == 1


def test_different_work_runs_side_by_side() -> None:
    desk, both = work.Desk(2), threading.Barrier(2, timeout=10)
    tasks = [desk.ask(key, lambda tell: both.wait()) for key in "ab"]
    assert sorted(task.future.result(10) for task in tasks) == [0, 1]


def test_a_refinement_does_not_hold_up_first_answers() -> None:
    desk, go = work.Desk(2), threading.Event()
    long = [desk.ask(f"long {n}", lambda tell: go.wait(10), later=True) for n in range(3)]
    assert desk.ask("first", lambda tell: "here").future.result(10) == "here"
    go.set()
    assert all(task.future.result(10) for task in long)


def test_a_failure_is_handed_on_and_not_kept() -> None:
    desk = work.Desk(1)

    def fails(tell: Tell) -> Any:
        raise ValueError("no such thing")

    with pytest.raises(ValueError, match="no such thing"):
        desk.ask("key", fails).future.result(10)
    assert desk.known("key") is None
    task = desk.ask("key", fails)
    assert isinstance(task.future.exception(10), ValueError)
    assert task.failed_for("key")
    assert not task.failed_for("other")
    assert desk.ask("key", lambda tell: "mended").future.result(10) == "mended"


def test_work_that_was_let_go_gives_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work, "_GRACE", 0.0)
    desk, released = work.Desk(1), threading.Event()

    def steps(tell: Tell) -> str:
        released.wait(10)
        tell(0.5, "half way")
        return "done"

    task = desk.ask("key", steps)
    desk.release("key")
    released.set()
    with pytest.raises(CancelledError):
        task.future.result(10)


def test_only_the_last_results_are_kept() -> None:
    desk = work.Desk(1)
    for n in range(20):
        desk.ask(n, lambda tell: "x").future.result(10)
    assert desk.known(0) is None
    assert desk.known(19) == "x"
