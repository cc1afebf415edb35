"""What the gun said of the head: a reading or a log, of a surface that the table has."""

from __future__ import annotations

import io
from collections.abc import Mapping

from screening.demo_cases import bundled_logs
from screening.errors import Fault, LogError, UnknownName
from screening.judgement.case.case import Head
from screening.judgement.case.section_values import Section, kept, optional_si, si
from screening.judgement.head.run_log import read_log
from screening.quantities import from_si
from screening.records.tables.surfaces import find_surface

WIDEST_SETTLED = 60.0
"""A log that has not settled is refused when the 90 % interval of its end is wider [K] (the project's choice)."""
GUN_SETTING = 0.95
"""Emissivity that a gun is set to where the case does not say, and the only one of many guns [1] (common practice)."""
USUAL_SURFACE = "bare_cast_aluminium"
"""What a gun is pointed at where the case does not say."""


def head_section(section: Section, faults: list[Fault]) -> Head:
    """Return what the gun said of the head, in SI; what is wrong with it is added to `faults`."""
    if ("reading_C" in section) == ("log" in section):
        faults.append(Fault("head", "must give either reading_C or log" + (", not both" if "log" in section else "")))
    log = section.get("log")
    text = None
    if isinstance(log, str):
        text = log
    elif isinstance(log, Mapping) and "bundled" in log:
        text = kept(faults, "head.log.bundled", lambda: _bundled_log(log["bundled"]))
    elif isinstance(log, Mapping):
        name = f" ({log['name']})" if "name" in log else ""
        message = (
            f"the log with digest {log['digest'][:12]}...{name} is not here; "
            "open that file beside the case, or give its text, or a reading_C in its place"
        )
        faults.append(Fault("head.log", message))
    if text is not None:
        kept(faults, "head.log", lambda: _check_log(text))
    surface = section.get("surface", USUAL_SURFACE)
    kept(faults, "head.surface", lambda: find_surface(surface))
    return Head(
        reading=optional_si(section, "reading_C"),
        log_text=text,
        gun_emissivity=si(section, "gun_emissivity", GUN_SETTING),
        gun_compensates_for=optional_si(section, "gun_compensates_for_C"),
        surroundings=optional_si(section, "surroundings_C"),
        surface=surface,
    )


def _check_log(text: str) -> None:
    """Raise LogError for a log that cannot be read, or that says next to nothing of where the head settles."""
    fit = read_log(io.StringIO(text)).fit_warm_up()  # as a stream: the text of a case never names a file
    low, high = fit.settled_interval
    if not fit.is_settled and high - low > WIDEST_SETTLED:
        raise LogError(
            f"the run had not settled: its end may lie anywhere from {from_si(low, 'degC'):.0f} to "
            f"{from_si(high, 'degC'):.0f} °C (90 %); log for longer, or give reading_C in its place"
        )


def _bundled_log(name: str) -> str:
    logs = bundled_logs()
    if name not in logs:
        raise UnknownName("bundled log", name, logs)
    return logs[name].read_text("utf-8")
