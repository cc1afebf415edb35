"""A parser of command lines that says what is wrong in one sentence: what, what was got, what would be right.

The words are checked here, before the standard parser reads them: so every sentence is of this file, and a value may begin
with a minus sign.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NoReturn

from screening.errors import nearest_names

_SHOWN = 60
"""So many letters of a wrong word are said again."""
_HELP = ("-h", "--help")


@dataclass(frozen=True)
class Argument:
    """What a command takes: a word by its place, such as `READING_C`, or one behind an option, such as `--surface`."""

    name: str
    meaning: str
    is_needed: bool
    one_of: Callable[[], Iterable[str]] | None

    @property
    def is_option(self) -> bool:
        """Whether its word stands behind its name."""
        return self.name.startswith("--")

    @property
    def right(self) -> str:
        """What would be right, with the words that may stand there where these are few."""
        return self.meaning if self.one_of is None else f"{self.meaning}, one of {', '.join(self.one_of())}"


class Parser(argparse.ArgumentParser):
    """A parser without the usage above its one sentence."""

    def __init__(self, **named: Any):
        super().__init__(**named, allow_abbrev=False)
        self.arguments: list[Argument] = []

    def take(
        self,
        name: str,
        meaning: str,
        read: Callable[[str], Any] = str,
        *,
        metavar: str = "",
        default: Any = None,
        is_needed: bool = False,
        one_of: Callable[[], Iterable[str]] | None = None,
    ) -> None:
        """Let the command take an argument: an option where the name begins with two dashes, else a word by its place.

        `read` turns the word into its value and raises ArgumentTypeError with what would be right; `metavar` is what stands for
        the word in the help, and names a word that has a place.
        """
        argument = Argument(name if name.startswith("--") else metavar, meaning, is_needed, one_of)
        self.arguments.append(argument)
        if argument.is_option:
            self.add_argument(name, type=read, metavar=metavar, default=default, required=is_needed, help=meaning)
        else:
            nargs = None if is_needed else "?"
            self.add_argument(name, type=read, metavar=metavar, default=default, nargs=nargs, help=meaning)

    def read(self, words: Sequence[str]) -> argparse.Namespace:
        """Return the values of a command's words; end with 2 and one sentence where they cannot be used."""
        if any(word in _HELP for word in words):
            return self.parse_args(["--help"])
        options, placed = self._parted(words)
        places = [argument for argument in self.arguments if not argument.is_option]
        absent = [argument for argument in places[len(placed) :] if argument.is_needed]
        absent += [a for a in self.arguments if a.is_option and a.is_needed and a.name not in options]
        if absent:
            self.error("; ".join(f"{argument.name} is missing: {argument.right}" for argument in absent))
        if rest := placed[len(places) :]:
            takes = " ".join(argument.name for argument in places)
            self.error(f"got {quoted(' '.join(rest))} beyond {takes}; put a name of several words in quotes")
        return self.parse_args([*(f"{name}={word}" for name, word in options.items()), "--", *placed])

    def _parted(self, words: Sequence[str]) -> tuple[dict[str, str], list[str]]:
        """Return the words behind options by the option's name, and the words that have a place."""
        options: dict[str, str] = {}
        placed: list[str] = []
        left = list(words)
        while left:
            word = left.pop(0)
            if word == "--":
                return options, placed + left
            if not word.startswith("--"):
                placed.append(word)
                continue
            name, equals, value = word.partition("=")
            argument = self._option(name)
            if not equals:
                if not left or left[0].startswith("--"):
                    self.error(f"{name} got no value: {argument.right}")
                value = left.pop(0)
            options[name] = value
        return options, placed

    def _option(self, name: str) -> Argument:
        """Return the option of a name; end with 2 where there is none."""
        options = {argument.name: argument for argument in self.arguments if argument.is_option}
        if name not in options:
            self.error(not_among(name, [*options, "--help"]))
        return options[name]

    def error(self, message: str) -> NoReturn:
        """Say what is wrong and end with 2."""
        sentence = message.removeprefix("argument ")  # stands before the sentence of a reader
        self.exit(2, f"{self.prog.removeprefix('python -m ')}: {sentence}; see '{self.prog} --help'\n")


def not_among(text: str, known: Sequence[str]) -> str:
    """Name the fault in an unknown word, and the nearest right ones.

    >>> not_among("gunn", ("gun", "log"))
    "got 'gunn'; nearest known: gun; must be one of gun, log"
    """
    near = nearest_names(text, known)
    right = f"nearest known: {', '.join(near)}; " if near else ""
    return f"got {quoted(text)}; {right}must be one of {', '.join(known)}"


def whole(low: int, high: int) -> Callable[[str], int]:
    """Return a reader of whole numbers from `low` to `high`."""

    def read(text: str) -> int:
        right = f"must be a whole number, {low} to {high}"
        if not re.fullmatch(r"[+-]?[0-9]{1,18}", text.strip()):
            raise argparse.ArgumentTypeError(f"got {quoted(text)}; {right}")
        value = int(text)
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"got {value}; {right}")
        return value

    return read


def number(example: str) -> Callable[[str], float]:
    """Return a reader of numbers; its sentence shows an example of one."""

    def read(text: str) -> float:
        try:
            return float(text)
        except ValueError:
            right = "a plain number with a point for decimals and no unit"
            raise argparse.ArgumentTypeError(f"got {quoted(text)}; must be {right}, such as {example}") from None

    return read


def file_name(text: str) -> str:
    """Return the name of a file to write; an empty one is refused."""
    if not text.strip():
        raise argparse.ArgumentTypeError(f"got {text!r}; must be the name of a file")
    return text


def quoted(text: str) -> str:
    """Return a text in quotes, cut where it is long."""
    return repr(text if len(text) <= _SHOWN else text[: _SHOWN - 3] + "...")
