"""The command line: `python -m screening rank CASE` and its smaller siblings."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NoReturn

from screening.errors import ScreeningError


class _Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one sentence, without the usage above it."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message}; see '{self.prog} --help'\n")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; return 0, or 2 with one sentence on standard error."""
    parser = _parser()
    options = parser.parse_args(arguments)
    try:
        options.run(options)
    except BrokenPipeError:  # the reader of a pipe has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (ScreeningError, OSError) as error:
        print(f"screening {options.command}: {error}", file=sys.stderr)
        return 2
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="python -m screening", description="Screen polymers for a printed piston.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def command(name: str, run: Callable[[argparse.Namespace], None], text: str) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=text, description=text)
        sub.set_defaults(run=run)
        sub.add_argument("--json", metavar="FILE", help="write the result as JSON to FILE ('-': print it)")
        return sub

    rank = command("rank", _rank, "Rank all materials for a case file or a demo case.")
    rank.add_argument("case", metavar="CASE", help="a case file, or the name of a demo case")
    rank.add_argument("--csv", metavar="FILE", help="write the shortlist as CSV")
    rank.add_argument("--html", metavar="FILE", help="write the page to share")
    rank.add_argument("--draws", type=_whole(10, 100_000), default=1000, metavar="N", help="10 to 100000, default 1000")
    rank.add_argument("--seed", type=_whole(0, 2**31), default=0, metavar="N", help="whole number, default 0")

    fuel = command("fuel", _fuel, "Show what a fuel needs, gives and risks.")
    fuel.add_argument("fuel", metavar="FUEL", help="name, CAS number or blend, such as 'ethanol 70, cyclopentanone 30'")

    contact = command("contact", _contact, "Show what a fuel does to a material.")
    contact.add_argument("material", metavar="MATERIAL", help="material id")
    contact.add_argument(
        "fuel", metavar="FUEL", help="name, CAS number, blend, or a place: dD 17.9, dP 11.9, dH 5.2, V 89"
    )
    contact.add_argument("--temperature-C", type=float, metavar="T", help="of the soak, degrees Celsius, default 23")

    gun = command("gun", _gun, "Turn a temperature gun's reading into the surface's temperature.")
    gun.add_argument("reading", type=float, metavar="READING_C", help="what the gun shows, degrees Celsius")
    gun.add_argument("--surface", required=True, metavar="NAME", help="id of the surface the gun is pointed at")
    gun.add_argument(
        "--gun-emissivity", type=float, default=0.95, metavar="E", help="what the gun is set to, default 0.95"
    )
    gun.add_argument(
        "--surroundings-C", type=float, default=20.0, metavar="T", help="what the surface mirrors, default 20"
    )

    log = command("log", _log, "Fit the warm-up of a run log.")
    log.add_argument("file", metavar="FILE", help="log of time and temperature")

    materials = command("materials", _materials, "List the materials, or show one with every value and its source.")
    materials.add_argument("material", nargs="?", metavar="MATERIAL", help="material id")
    return parser


def _whole(low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        try:
            value = int(text)
        except ValueError:
            raise argparse.ArgumentTypeError(f"got {text!r}; must be a whole number") from None
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"got {value}; must be {low} to {high}")
        return value

    return read


def _put(options: argparse.Namespace, text: Callable[[], str], document: Callable[[], Any]) -> None:
    """Print the readable text, or write the document as JSON where it is wanted."""
    from screening.judgement.case_file import write_whole

    if options.json == "-":
        print(json.dumps(document(), indent=2, ensure_ascii=False, allow_nan=False))
        return
    if options.json:
        write_whole(options.json, json.dumps(document(), indent=2, ensure_ascii=False, allow_nan=False) + "\n")
    print(text())


# Each command imports what it needs when it runs: `gun` need not wait for the combustion library.


def _rank(options: argparse.Namespace) -> None:
    from screening.judgement.case_file import load_case, write_whole
    from screening.judgement.screening import screen
    from screening.report.shortlist_text import shortlist_csv, shortlist_text

    for name in filter(None, (options.csv, options.html, None if options.json == "-" else options.json)):
        folder = Path(name).parent
        if not folder.is_dir():
            raise ScreeningError(f"{name}: the folder {folder} does not exist; nothing was computed")
    result = screen(load_case(options.case), draws=options.draws, seed=options.seed)
    if options.csv:
        write_whole(options.csv, shortlist_csv(result))
    if options.html:
        write_whole(options.html, result.to_html())
    _put(options, lambda: shortlist_text(result), lambda: json.loads(result.to_json()))


def _fuel(options: argparse.Namespace) -> None:
    from screening.records.fuels import find_fuel
    from screening.report.fuel_text import fuel_document, fuel_sheet

    fuel = find_fuel(options.fuel)
    _put(options, lambda: fuel_sheet(fuel, find_fuel("petrol E0")), lambda: fuel_document(fuel))


def _contact(options: argparse.Namespace) -> None:
    from screening.judgement.contact import EXPOSURES, assess_contact
    from screening.judgement.contact_story import liquid_asked
    from screening.quantities import to_si
    from screening.report.contact_text import contact_document, contact_sheet

    soak = None if options.temperature_C is None else to_si(options.temperature_C, "degC")
    fuel = liquid_asked(options.fuel)
    found = [
        assess_contact(options.material, fuel, soak if exposure == "soak" else None, exposure) for exposure in EXPOSURES
    ]
    _put(options, lambda: contact_sheet(found), lambda: [contact_document(contact) for contact in found])


def _gun(options: argparse.Namespace) -> None:
    from screening.judgement.gun import read_gun
    from screening.quantities import to_si
    from screening.report.gun_text import gun_document, gun_sheet

    reading, surroundings = to_si(options.reading, "degC"), to_si(options.surroundings_C, "degC")
    gun = read_gun(reading, options.surface, options.gun_emissivity, surroundings)
    _put(options, lambda: gun_sheet(gun), lambda: gun_document(gun))


def _log(options: argparse.Namespace) -> None:
    from screening.judgement.run_log import read_log
    from screening.report.log_text import log_document, log_sheet

    if not Path(options.file).is_file():
        raise ScreeningError(f"{options.file}: no such file")
    log = read_log(Path(options.file))
    _put(options, lambda: log_sheet(log), lambda: log_document(log))


def _materials(options: argparse.Namespace) -> None:
    from screening.records.materials import load_materials
    from screening.report.materials_text import material_document, material_sheet, materials_overview

    materials = load_materials()
    if options.material is None:
        _put(
            options,
            lambda: materials_overview(materials),
            lambda: [material_document(materials, i) for i in materials.ids],
        )
    else:
        materials.get(options.material)
        _put(
            options,
            lambda: material_sheet(materials, options.material),
            lambda: material_document(materials, options.material),
        )


if __name__ == "__main__":
    sys.exit(main())
