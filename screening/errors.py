"""The family of errors a user of the library can meet; each message says what, where and what would be right."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any


class ScreeningError(Exception):
    """Root of all errors that this library raises on purpose."""


_FEW = 30  # so many names can still be read in one sentence
_LONGEST = 80  # letters of a name that are shown


@dataclass(frozen=True)
class Fault:
    """One thing wrong with an input: where it is, and what is wrong and would be right."""

    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.where}: {self.message}" if self.where else self.message


class CaseError(ScreeningError, ValueError):
    """A case that cannot be used; `faults` lists everything wrong with it at once."""

    def __init__(self, faults: Sequence[Fault]):
        self.faults = tuple(faults)
        count = "1 fault" if len(self.faults) == 1 else f"{len(self.faults)} faults"
        super().__init__(f"the case has {count}: " + "; ".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.faults,)  # pickled by what it was made from, not by its sentence


class DataError(ScreeningError, ValueError):
    """A row of `materials_data` that cannot be used; the message names file, row and column."""


class LogError(ScreeningError, ValueError):
    """A run log that cannot be read or fitted."""


class OutOfRange(ScreeningError, ValueError):
    """A number outside the range in which the model or the instrument means anything."""


class NotBuiltYet(ScreeningError, NotImplementedError):
    """A part of the job that this version does not do; raised instead of an invented value."""


class UnknownName(ScreeningError, LookupError):
    """A name, CAS number or id that is not known; the message offers the nearest known ones, and says what is `right`."""

    def __init__(self, kind: str, name: str, known: Iterable[str], right: str = ""):
        names = tuple(known)
        self.near = nearest_names(name, names)
        if self.near:
            hint = f"; nearest known: {', '.join(self.near)}"
        elif len(names) <= _FEW:
            hint = f"; known: {', '.join(names)}"
        else:
            hint = f"; {len(names)} are known, such as {', '.join(names[:: len(names) // 3][:3])}"
        got = f"unknown {kind} {_cut(name)}" if name.strip() else f"no {kind} is named"
        super().__init__(got + hint + (f"; {right}" if right and not self.near else ""))
        self._made_from = (kind, name, names, right)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), self._made_from


def _cut(name: str) -> str:
    return repr(name if len(name) <= _LONGEST else name[: _LONGEST - 3] + "...")


def nearest_names(name: str, known: Iterable[str], count: int = 3) -> tuple[str, ...]:
    """Return up to `count` known names most like `name`, best first."""
    by_fold = {candidate.casefold(): candidate for candidate in known}
    close = difflib.get_close_matches(name.casefold(), by_fold, n=count, cutoff=0.5)
    return tuple(by_fold[fold] for fold in close)
