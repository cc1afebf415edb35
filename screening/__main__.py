"""The command line: `python -m screening rank CASE` and its smaller siblings."""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from screening.command_parser import Parser, file_name, not_among, number, quoted, whole
from screening.errors import CaseError, ScreeningError
from screening.version import VERSION

_OUTPUTS = ("json", "csv", "html")
_ABOUT = ("-h", "--help", "--version")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    arguments : Sequence[str] or None
        The words behind `python -m screening`; None: those of the terminal.

    Returns
    -------
    int
        0, 2 with one sentence on standard error for a wrong input, or 130 where it was stopped.

    Raises
    ------
    SystemExit
        With 2 where the words are no command, with 0 behind help and version.
    """
    options = _options(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a terminal without a sign shows another in its place
            stream.reconfigure(errors="replace")
    try:
        _check_outputs(options)
        options.run(options)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader of a pipe has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        print(f"screening {options.command}: stopped", file=sys.stderr)
        return 130
    except (ScreeningError, OSError) as error:
        print(f"screening {options.command}: {_sentence_of(error, options)}", file=sys.stderr)
        return 2
    return 0


def _options(words: Sequence[str]) -> argparse.Namespace:
    """Return the values of the words, with the command's name and what runs it."""
    parser, commands = _parsers()
    if not words:
        parser.error(f"COMMAND is missing: one of {', '.join(commands)}")
    first = words[0]
    if first in commands:
        return commands[first].read(words[1:])
    if first not in _ABOUT:
        kind, known = ("", _ABOUT[1:]) if first.startswith("--") else ("COMMAND: ", tuple(commands))
        parser.error(kind + not_among(first, known))
    return parser.parse_args([first])


def _sentence_of(error: Exception, options: argparse.Namespace) -> str:
    """Return the error as one line; a case's faults with the file that they are in."""
    text = str(error)
    if isinstance(error, CaseError):
        where = getattr(options, "case", "")
        of_file = not where or error.faults[0].where in (where, repr(where))
        faults = [fault.message if fault.where == "fuel" and not where else str(fault) for fault in error.faults]
        text = ("" if of_file else f"{where}: ") + "; ".join(faults)
    elif isinstance(error, OSError):
        text = f"{quoted(str(error.filename))}: {error.strerror}" if error.filename else str(error.strerror or error)
    return " ".join(text.split())


def _parsers() -> tuple[Parser, dict[str, Parser]]:
    """Return the parser of help and version, and each command's parser by the command's name."""
    parser = Parser(prog="python -m screening", description="Screen polymers for a printed piston.")
    parser.add_argument("--version", action="version", version=f"screening {VERSION}")
    subcommands = parser.add_subparsers(metavar="COMMAND", parser_class=Parser)
    commands: dict[str, Parser] = {}

    def command(name: str, run: Callable[[argparse.Namespace], None], text: str) -> Parser:
        commands[name] = subcommands.add_parser(name, help=text, description=text)
        commands[name].set_defaults(command=name, run=run)
        _output(commands[name], "--json", "write the result as JSON to FILE ('-': print it)")
        return commands[name]

    rank = command("rank", _rank, "Rank all materials for a case file or a demo case.")
    rank.take("case", "a case file, or the name of a demo case", metavar="CASE", is_needed=True)
    _output(rank, "--csv", "write the shortlist as CSV to FILE ('-': print it)")
    _output(rank, "--html", "write the page to share to FILE ('-': print it)")
    rank.take("--draws", "10 to 100000, default 1000", whole(10, 100_000), metavar="N", default=1000)
    rank.take("--seed", "whole number, default 0", whole(0, 2**31), metavar="N", default=0)

    fuel = command("fuel", _fuel, "Show what a fuel needs, gives and risks.")
    blend = "name, CAS number or blend, such as 'ethanol 70, cyclopentanone 30'"
    fuel.take("fuel", blend, metavar="FUEL", is_needed=True)

    contact = command("contact", _contact, "Show what a fuel does to a material.")
    contact.take("material", "material id", metavar="MATERIAL", is_needed=True)
    liquid = "name, CAS number, blend, or a place: dD 17.9, dP 11.9, dH 5.2, V 89"
    contact.take("fuel", liquid, metavar="FUEL", is_needed=True)
    contact.take("--temperature-C", "of the soak, degrees Celsius, default 23", number("23"), metavar="T")

    gun = command("gun", _gun, "Turn a temperature gun's reading into the surface's temperature.")
    gun.take("reading", "what the gun shows, degrees Celsius", number("95"), metavar="READING_C", is_needed=True)
    spot = "id of the surface the gun is pointed at"
    gun.take("--surface", spot, metavar="NAME", is_needed=True, one_of=_surfaces)
    gun.take("--gun-emissivity", "what the gun is set to, default 0.95", number("0.95"), metavar="E", default=0.95)
    gun.take("--surroundings-C", "what the surface mirrors, default 20", number("20"), metavar="T", default=20.0)
    taken = "what the gun takes that to be: as set on it, else its own temperature, default 20"
    gun.take("--gun-compensates-for-C", taken, number("20"), metavar="T", default=20.0)

    log = command("log", _log, "Fit the warm-up of a run log.")
    log.take("file", "log of time and temperature", metavar="FILE", is_needed=True)

    materials = command("materials", _materials, "List the materials, or show one with every value and its source.")
    materials.take("material", "material id", metavar="MATERIAL")
    return parser, commands


def _output(parser: Parser, option: str, text: str) -> None:
    parser.take(option, text, file_name, metavar="FILE")


def _surfaces() -> Sequence[str]:
    from screening.records.tables.surfaces import load_surfaces

    return tuple(load_surfaces())


def _wanted(options: argparse.Namespace) -> dict[str, str]:
    """Return the files to write by their kind; '-' is the terminal."""
    return {kind: name for kind in _OUTPUTS if (name := getattr(options, kind, None))}


def _check_outputs(options: argparse.Namespace) -> None:
    """Raise ScreeningError for a file that cannot be written, before anything is computed."""
    taken = {
        Path(name).resolve(): name for name in (getattr(options, "case", ""), getattr(options, "file", "")) if name
    }
    for kind, name in _wanted(options).items():
        path = Path(name).resolve()
        if path in taken:
            raise ScreeningError(f"--{kind} {name}: the same file as {taken[path]}; must be one of its own")
        taken[path] = f"--{kind} {name}"
        if name == "-":
            continue
        if not path.parent.is_dir():
            raise ScreeningError(
                f"{name}: the folder {Path(name).parent} does not exist; must be a file in one that does"
            )
        if path.is_dir():
            raise ScreeningError(f"{name}: is a folder; must be a file")
        if not os.access(path if path.exists() else path.parent, os.W_OK):
            raise ScreeningError(f"{name}: may not be written; must be a file in a folder of yours")


def _put(options: argparse.Namespace, text: Callable[[], str], **forms: Callable[[], str]) -> None:
    """Write what is wanted to its files; print the readable text, or the form whose file is '-'."""
    from screening.judgement.case.case_file import write_whole

    wanted = _wanted(options)
    made = {kind: forms[kind]() for kind in wanted}
    for kind, name in wanted.items():
        if name != "-":
            try:
                write_whole(name, made[kind])
            except OSError as error:
                raise ScreeningError(f"{name}: cannot be written: {error.strerror}") from None
    printed = next((made[kind] for kind, name in wanted.items() if name == "-"), None)
    print((text() if printed is None else printed).rstrip("\n"))


def _json(document: Any) -> str:
    """Return a document as JSON that every terminal can hold."""
    plain = "utf" not in (sys.stdout.encoding or "").lower()
    return json.dumps(document, indent=2, ensure_ascii=plain, allow_nan=False) + "\n"


# Each command imports what it needs when it runs: `gun` need not wait for the combustion library.


def _rank(options: argparse.Namespace) -> None:
    from screening.judgement.case.case_file import load_case
    from screening.judgement.choice.screening import screen
    from screening.report.shortlist.document import report_json
    from screening.report.shortlist.page import report_html
    from screening.report.shortlist.shortlist_text import shortlist_csv, shortlist_text

    result = screen(load_case(options.case), draws=options.draws, seed=options.seed)
    _put(
        options,
        lambda: shortlist_text(result),
        json=lambda: _json(json.loads(report_json(result))),
        csv=lambda: shortlist_csv(result),
        html=lambda: report_html(result),
    )


def _fuel(options: argparse.Namespace) -> None:
    from screening.records.liquids.find_fuel import find_fuel
    from screening.report.fuel.fuel_text import fuel_document, fuel_sheet

    fuel, petrol = find_fuel(options.fuel), find_fuel("petrol E0")
    _put(options, lambda: fuel_sheet(fuel, petrol), json=lambda: _json(fuel_document(fuel, petrol)))


def _contact(options: argparse.Namespace) -> None:
    from screening.judgement.contact.contact_story import liquid_asked
    from screening.judgement.contact.pair import EXPOSURES, assess_contact
    from screening.quantities import to_si
    from screening.report.contact.contact_text import contact_document, contact_sheet

    soak = None if options.temperature_C is None else to_si(options.temperature_C, "degC")
    fuel = liquid_asked(options.fuel)
    contacts = [
        assess_contact(options.material, fuel, soak if exposure == "soak" else None, exposure) for exposure in EXPOSURES
    ]
    _put(
        options,
        lambda: contact_sheet(contacts),
        json=lambda: _json([contact_document(contact) for contact in contacts]),
    )


def _gun(options: argparse.Namespace) -> None:
    from screening.judgement.head.gun import read_gun
    from screening.quantities import to_si
    from screening.report.head.gun_text import gun_document, gun_sheet

    celsius = (options.reading, options.surroundings_C, options.gun_compensates_for_C)
    reading, surroundings, compensated_for = (to_si(value, "degC") for value in celsius)
    gun = read_gun(reading, options.surface, options.gun_emissivity, surroundings, compensated_for)
    _put(options, lambda: gun_sheet(gun), json=lambda: _json(gun_document(gun)))


def _log(options: argparse.Namespace) -> None:
    from screening.judgement.head.run_log import read_log
    from screening.report.head.log_text import log_document, log_sheet

    log = read_log(Path(options.file))
    _put(options, lambda: log_sheet(log), json=lambda: _json(log_document(log)))


def _materials(options: argparse.Namespace) -> None:
    from screening.records.materials.materials import load_materials
    from screening.report.materials.materials_text import material_document, material_sheet, materials_overview

    materials = load_materials()
    if options.material is None:
        _put(
            options,
            lambda: materials_overview(materials),
            json=lambda: _json([material_document(materials, i) for i in materials.ids]),
        )
    else:
        materials.get(options.material)
        _put(
            options,
            lambda: material_sheet(materials, options.material),
            json=lambda: _json(material_document(materials, options.material)),
        )


if __name__ == "__main__":
    sys.exit(main())
