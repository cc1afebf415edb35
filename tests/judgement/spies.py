"""Spies: functions of the program that write down what they are called with, and then do their work as ever.

Beside them a way to run a case with everything that is not given at its typical value, so that what must arrive can be
worked out by hand.
"""

from __future__ import annotations

import inspect
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import numpy as np
import pytest

from screening.judgement.draws.sampling import drawn_assumption, drawn_value

Call = dict[str, Any]
Argument = str | Callable[[Call], Any]


def put_in_place_of(patch: pytest.MonkeyPatch, function: Callable[..., Any], stand_in: Callable[..., Any]) -> None:
    """Put `stand_in` wherever a file of the program has taken `function` in, under whatever name."""
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == "screening":
            for bound, value in list(vars(module).items()):
                if value is function:
                    patch.setattr(module, bound, stand_in)


class Spies:
    """The calls of some functions, in their order, as name of the argument to what was passed; `returned` is the answer.

    `ended` says whether what was watched came to its end.
    """

    def __init__(self, patch: pytest.MonkeyPatch, *functions: Callable[..., Any]) -> None:
        self.ended = False
        self.calls: dict[str, list[Call]] = {function.__name__: [] for function in functions}
        for function in functions:
            put_in_place_of(patch, function, self._recording(function))

    def _recording(self, function: Callable[..., Any]) -> Callable[..., Any]:
        signature, calls = inspect.signature(function), self.calls[function.__name__]

        def recording(*given: Any, **named: Any) -> Any:
            bound = signature.bind(*given, **named)
            bound.apply_defaults()
            call = dict(bound.arguments)
            calls.append(call)
            call["returned"] = function(*given, **named)
            return call["returned"]

        return recording

    def method(self, patch: pytest.MonkeyPatch, owner: type, name: str) -> None:
        """Watch a method of a class as well."""
        self.calls[name] = []
        patch.setattr(owner, name, self._recording(getattr(owner, name)))

    def of(self, name: str) -> list[Call]:
        """Return the calls of a function; 'name #-1' is its last one alone."""
        function, _, number = name.partition(" #")
        calls = self.calls[function]
        assert calls, f"{function} was never called"
        return [calls[int(number)]] if number else calls


def argument(call: Call, path: Argument) -> np.ndarray:
    """Return one argument of a call as an array: 'layers.-1.density' is the density of the last of the layers."""
    if callable(path):
        return np.asarray(path(call), dtype=float)
    value: Any = call
    for step in path.split("."):
        if isinstance(value, Mapping):
            value = value[step]
        else:
            value = value[int(step)] if step.lstrip("-").isdigit() else getattr(value, step)
    return np.asarray(value, dtype=float)


@contextmanager
def all_typical() -> Iterator[pytest.MonkeyPatch]:
    """Run with every assumption and every material's value at its typical value in all draws, in one thread."""
    with pytest.MonkeyPatch.context() as patch:
        put_in_place_of(patch, drawn_assumption, lambda assumption, n_draw, seed: np.full(n_draw, assumption.typical))
        patch.setattr(os, "cpu_count", lambda: 1)  # one thread: calls come in one order
        put_in_place_of(patch, drawn_value, lambda name, value, n_draw, seed: np.full(n_draw, value.typical))
        yield patch
