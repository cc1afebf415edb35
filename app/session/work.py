"""Long work outside the pages' own threads: the same work is done once for all who wait, and a few different ones at a time.

Nobody holds a lock while computing: a page that is left or run again in the middle leaves the work to go on, and work
that nobody has asked about for a while gives up at its next step.
"""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor
from typing import Any

Tell = Callable[[float, str], object]
_MOST_KEPT = 12
_PATIENCE = 90.0
"""Seconds after which work that nobody asks about gives up: a tab in the background asks once a minute."""
_GRACE = 5.0
"""Seconds left to others to ask about work that one has let go."""


class Task:
    """One piece of work under way: how far it is, and its result in the end."""

    def __init__(self, key: Hashable) -> None:
        self.key, self.share = key, 0.0
        self.doing = "Waiting for other work to end"
        self.future: Future[Any] = Future()
        self.asked_at = time.monotonic()

    def heard(self, share: float, doing: str) -> None:
        """Take note of progress; give up where nobody waits any more."""
        if time.monotonic() - self.asked_at > _PATIENCE:
            raise CancelledError
        self.share, self.doing = min(max(share, 0.0), 1.0), doing

    def failed_for(self, key: Hashable) -> bool:
        """Return whether this was the work of that key and it failed, rather than being given up."""
        error = self.future.exception() if self.future.done() else None
        return self.key == key and error is not None and not isinstance(error, CancelledError)


class Desk:
    """Takes work by key, keeps the last results; `workers` for first answers, one more for refinements."""

    def __init__(self, workers: int) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[Hashable, Any] = OrderedDict()
        self._tasks: dict[Hashable, Task] = {}
        self._soon = ThreadPoolExecutor(workers, "first-answer")
        self._later = ThreadPoolExecutor(1, "refinement") if workers > 1 else self._soon

    def known(self, key: Hashable) -> Any | None:
        """Return the result if it is kept."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def ask(self, key: Hashable, work: Callable[[Tell], Any], later: bool = False) -> Task:
        """Return the work of this key, begun now unless it is under way; the work hears whom to tell of its progress."""
        with self._lock:
            task = self._tasks.get(key)
            if task is None:
                task = self._tasks[key] = Task(key)
                if key in self._kept:
                    task.future.set_result(self._kept[key])
                    del self._tasks[key]
                else:
                    (self._later if later else self._soon).submit(self._run, key, task, work)
            task.asked_at = time.monotonic()
            return task

    def release(self, key: Hashable) -> None:
        """Let work go that is not waited for here any more; it gives up unless somebody else asks soon."""
        with self._lock:
            task = self._tasks.get(key)
            if task is not None:
                task.asked_at = min(task.asked_at, time.monotonic() - _PATIENCE + _GRACE)

    def _run(self, key: Hashable, task: Task, work: Callable[[Tell], Any]) -> None:
        found, error = None, None
        try:
            task.heard(0.0, "Starting")
            found = work(task.heard)
        except BaseException as raised:  # handed to whoever waits
            error = raised
        with self._lock:
            del self._tasks[key]
            if error is None:
                self._kept[key] = found
                while len(self._kept) > _MOST_KEPT:
                    self._kept.popitem(last=False)
        if error is None:
            task.future.set_result(found)
        else:
            task.future.set_exception(error)
