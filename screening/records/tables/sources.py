"""Where each value comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from screening.errors import UnknownName
from screening.records.tables.package import read_rows

_LONGEST = 60


@dataclass(frozen=True)
class Source:
    """One source; `kind` is standard, handbook, paper, public table or common practice."""

    id: str
    author: str
    year: str
    title: str
    edition: str
    place: str
    address: str
    kind: str
    licence_note: str

    @property
    def short(self) -> str:
        """Return author and year, or the title where there is no author, to be said within a sentence."""
        first, *others = self.author.split("; ")
        name = f"{first} and others" if others else first or self.title
        cut = name if len(name) <= _LONGEST else name[: _LONGEST - 1].rsplit(" ", 1)[0] + " …"
        return f"{cut} {self.year}".rstrip()

    @property
    def citation(self) -> str:
        """Return one line: author (year), title, edition, place, address."""
        dated = f"{self.author} ({self.year})".strip() if self.year else self.author
        return ", ".join(part for part in (dated, self.title, self.edition, self.place, self.address) if part)


@lru_cache(maxsize=8)
def load_sources(folder: Path | None = None) -> Mapping[str, Source]:
    """Return every source by id."""
    return MappingProxyType({row["id"]: Source(**row) for _, row in read_rows("sources", folder)})


def source(id: str) -> Source:
    """Return one source; another id raises UnknownName with the nearest ones."""
    sources = load_sources()
    if id not in sources:
        raise UnknownName("source", id, sources)
    return sources[id]
