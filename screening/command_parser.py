"""A parser of command lines that says what is wrong in one sentence: what, what was got, what would be right."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NoReturn

from screening.errors import nearest_names

_MISSING = re.compile(r"the following arguments are required: (.*)")
_NO_VALUE = re.compile(r"argument (\S+): expected one argument")
_SHOWN = 60


class Parser(argparse.ArgumentParser):
    """A parser without the usage above its one sentence; `lists` gives what may stand for an argument, by its name."""

    def __init__(self, **named: Any):
        super().__init__(**named, allow_abbrev=False)
        self.lists: dict[str, Callable[[], Iterable[str]]] = {}
        self._negative_number_matcher = re.compile(r"-\.?\d")  # what starts so is a number, if perhaps a wrong one

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and end with 2."""
        if missing := _MISSING.fullmatch(message):
            message = "; ".join(self._missing(name) for name in missing[1].split(", "))
        elif valueless := _NO_VALUE.fullmatch(message):
            name = valueless[1]
            message = f"{name} got no value: {self._meaning(name)}"
        self.exit(
            2,
            f"{self.prog.removeprefix('python -m ')}: {message.removeprefix('argument ')}; see '{self.prog} --help'\n",
        )

    def refuse_unknown_options(self, words: Iterable[str]) -> None:
        """End with 2 where a word is written as an option and is none."""
        options = [option for action in self._actions for option in action.option_strings]
        for word in words:
            name = word.split("=")[0]
            if name == "--":
                return
            if name.startswith("--") and name not in options:
                near = nearest_names(name, options)
                known = ", ".join(near or options)
                self.error(f"got {shown(name)}; {'nearest known' if near else 'known'}: {known}")

    def refuse_rest(self, rest: Sequence[str]) -> None:
        """End with 2 where there are words that no argument takes."""
        if rest:
            takes = " ".join(self._called(action) for action in self._actions if not action.option_strings)
            self.error(f"got {shown(' '.join(rest))} beyond {takes}; put a name of several words in quotes")

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is not None and value not in action.choices:
            known = list(action.choices)
            near = nearest_names(str(value), known)
            right = f"nearest known: {', '.join(near)}; " if near else ""
            raise argparse.ArgumentError(action, f"got {shown(str(value))}; {right}must be one of {', '.join(known)}")

    def _missing(self, name: str) -> str:
        return f"{name} is missing: {self._meaning(name)}"

    def _meaning(self, name: str) -> str:
        action = next((a for a in self._actions if name.split("/")[0] in (self._called(a), *a.option_strings)), None)
        if action is None:
            return "given"
        if action.choices is not None:
            return f"one of {', '.join(action.choices)}"
        told = action.help or "given"
        return f"{told}, one of {', '.join(self.lists[name]())}" if name in self.lists else told

    @staticmethod
    def _called(action: argparse.Action) -> str:
        return str(action.metavar or action.dest)


def whole(low: int, high: int) -> Callable[[str], int]:
    """Return a reader of whole numbers from `low` to `high`."""

    def read(text: str) -> int:
        right = f"must be a whole number, {low} to {high}"
        if not re.fullmatch(r"[+-]?[0-9]{1,18}", text.strip()):
            raise argparse.ArgumentTypeError(f"got {shown(text)}; {right}")
        value = int(text)
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"got {value}; {right}")
        return value

    return read


def number(example: str) -> Callable[[str], float]:
    """Return a reader of numbers; `example` shows one, with what it is."""

    def read(text: str) -> float:
        try:
            return float(text)
        except ValueError:
            right = "a plain number with a point for decimals and no unit"
            raise argparse.ArgumentTypeError(f"got {shown(text)}; must be {right}, such as {example}") from None

    return read


def file_name(text: str) -> str:
    """Return the name of a file to write; an empty one is refused."""
    if not text.strip():
        raise argparse.ArgumentTypeError(f"got {text!r}; must be the name of a file")
    return text


def shown(text: str) -> str:
    """Return a text in quotes, cut where it is long."""
    return repr(text if len(text) <= _SHOWN else text[: _SHOWN - 3] + "...")
