"""Every value that the open tables of the `chemicals` package hold for one liquid, each with its method.

The tables are kept apart from the choice between them (`value_choice`): this file gives all that is measured.
Predicted values (group contributions, quantum chemistry, fitted networks)
are left out altogether, and so is the collection whose "enthalpies of formation" are for 0 K.
"""

from __future__ import annotations

import re
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from screening.records.liquids.vapour_pressure import VapourCurve

_READING = threading.Lock()
STANDARD_TEMPERATURE = 298.15
LN10 = float(np.log(10.0))
DENSITY_TEMPERATURE = 293.15

# Methods of the package that are measurements or critical compilations of them, best first.
_ORDER: dict[str, tuple[str, ...]] = {
    "enthalpy_of_formation_liquid": ("ATCT_L", "CRC", "WEBBOOK"),
    "enthalpy_of_formation_gas": ("ATCT_G", "CRC", "WEBBOOK", "API_TDB_G", "YAWS"),
    "boiling_point": ("HEOS", "CRC_ORG", "CRC_INORG", "WEBBOOK", "COMMON_CHEMISTRY", "YAWS"),
    "critical_temperature": ("HEOS", "IUPAC", "CRC", "PSRK", "PINAMARTINES", "YAWS"),
    "flash_point": ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)", "WIKIDATA", "Serat DIPPR (2017)"),
    "autoignition": ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)", "WIKIDATA"),
    "lower_flammability_limit": ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)", "WIKIDATA"),
    "upper_flammability_limit": ("IEC 60079-20-1 (2010)", "NFPA 497 (2008)", "WIKIDATA"),
}

# Lists of Hansen parameters by the beginning of the package's name for them; the rest is Hansen's.
_HANSEN_LISTS = {"MANUEL": "Manuel-Ruben 2022", "ALSHERI": "Alshehri 2020", "WDR": "Schrier 2021"}

SI_UNIT: dict[str, str] = {
    "enthalpy_of_formation_liquid": "J/mol",
    "enthalpy_of_formation_gas": "J/mol",
    "boiling_point": "K",
    "critical_temperature": "K",
    "flash_point": "K",
    "autoignition": "K",
    "lower_flammability_limit": "1",
    "upper_flammability_limit": "1",
    "hansen_d": "MPa^0.5",
    "hansen_p": "MPa^0.5",
    "hansen_h": "MPa^0.5",
    "density": "kg/m3",
    "heat_of_vaporisation": "J/mol",
    "molar_volume": "m3/mol",
}


@dataclass(frozen=True)
class Identity:
    """Who a liquid is: its usual name, CAS number, atoms per molecule and molar mass [kg/mol]."""

    name: str
    cas: str
    atoms: tuple[tuple[str, float], ...]
    molar_mass: float
    structure: str


@lru_cache(maxsize=256)
def identify(name: str) -> Identity | None:
    """Return the liquid with this CAS number, common name or systematic name, or None.

    The package's index also holds trade, foreign and mistyped names and bare formulas, some of them of
    another liquid (`benzine` leads to benzene there), so that a hit counts only when the name is the
    one that the liquid goes by, but for case, spaces, hyphens and a leading `n-`.
    """
    from chemicals import CAS_from_any, search_chemical, simple_formula_parser

    try:
        cas = CAS_from_any(name.strip(), autoload=False)
        entry = search_chemical(cas)
    except ValueError:
        return None
    names = {_bare(text) for text in (entry.CASs, entry.common_name, entry.iupac_name) if text}
    if _bare(name) not in names:
        return None
    counts = simple_formula_parser(entry.formula)
    atoms = tuple(sorted((symbol, float(count)) for symbol, count in counts.items()))
    return Identity(entry.common_name or name, cas, atoms, entry.MW / 1000.0, entry.smiles or "")


def _bare(name: str) -> str:
    return re.sub(r"[\s-]", "", re.sub(r"^n-", "", name.strip().casefold()))


def _constants(cas: str, name: str) -> dict[str, float]:
    """Return method -> value for a property that the package tabulates as one number."""
    import chemicals
    from chemicals import reaction

    lookups: dict[str, tuple[Callable, Callable]] = {
        "enthalpy_of_formation_liquid": (reaction.Hfl, reaction.Hfl_methods),
        "enthalpy_of_formation_gas": (reaction.Hfg, reaction.Hfg_methods),
        "boiling_point": (chemicals.Tb, chemicals.Tb_methods),
        "critical_temperature": (chemicals.Tc, chemicals.Tc_methods),
        "flash_point": (chemicals.T_flash, chemicals.T_flash_methods),
        "autoignition": (chemicals.T_autoignition, chemicals.T_autoignition_methods),
    }
    if name == "lower_flammability_limit":
        methods = chemicals.LFL_methods(CASRN=cas)
        values = {method: chemicals.LFL(CASRN=cas, method=method) for method in methods}
    elif name == "upper_flammability_limit":
        methods = chemicals.UFL_methods(CASRN=cas)
        values = {method: chemicals.UFL(CASRN=cas, method=method) for method in methods}
    else:
        value, methods_of = lookups[name]
        values = {method: value(cas, method=method) for method in methods_of(cas)}
    return {
        method: float(values[method])
        for method in _ORDER[name]
        if values.get(method) is not None and np.isfinite(values[method])
    }


def _hansen(cas: str, part: str) -> dict[str, float]:
    """Return list -> one Hansen parameter [MPa^0.5]; `part` is d, p or h. Hansen's own list comes first."""
    from chemicals import solubility

    value = getattr(solubility, f"hansen_delta_{part}")
    by_list = {
        _HANSEN_LISTS.get(method.split("_")[0], "Hansen's handbook"): float(value(cas, method=method)) * 1e-3
        for method in getattr(solubility, f"hansen_delta_{part}_methods")(cas)
    }
    return dict(sorted(by_list.items(), key=lambda item: item[0] != "Hansen's handbook"))


def _densities(cas: str, molar_mass: float, temperature: float) -> dict[str, float]:
    """Return method -> density [kg/m3] of the liquid at `temperature` [K], each within its fitted range."""
    from chemicals import miscdata, volume as tables
    from chemicals.dippr import EQ105

    densities: dict[str, float] = {}
    if cas in tables.rho_data_Perry_8E_105_l.index:
        row = tables.rho_data_Perry_8E_105_l.loc[cas]
        if row["Tmin"] <= temperature <= row["Tmax"]:
            densities["Perry 8e 105"] = EQ105(temperature, row["C1"], row["C2"], row["C3"], row["C4"]) * molar_mass
    if cas in tables.rho_data_VDI_PPDS_2.index:
        row = tables.rho_data_VDI_PPDS_2.loc[cas]
        if temperature < row["Tc"]:
            x = 1.0 - temperature / row["Tc"]
            densities["VDI PPDS 2"] = (
                row["rhoc"] + row["A"] * x**0.35 + row["B"] * x ** (2 / 3) + row["C"] * x + row["D"] * x ** (4 / 3)
            )
    constants = miscdata.CRC_organic_data
    if cas in constants.index:
        densities["CRC organic constants"] = constants.loc[cas, "rho"]
    return {method: float(value) for method, value in densities.items() if np.isfinite(value)}


def _heats_of_vaporisation(cas: str, temperature: float) -> dict[str, float]:
    """Return method -> heat of vaporisation [J/mol]; the tabulated ones are for 298.15 K."""
    from chemicals import PPDS12, phase_change as tables
    from chemicals.dippr import EQ106

    heats: dict[str, float] = {}
    if abs(temperature - STANDARD_TEMPERATURE) < 0.01:
        for method, table in (
            ("CRC at 298 K", tables.Hvap_data_CRC),
            ("Gharagheizi compilation", tables.Hvap_data_Gharagheizi),
        ):
            if cas in table.index:
                heats[method] = table.loc[cas, "Hvap298"]
    if cas in tables.phase_change_data_Perrys2_150.index:
        row = tables.phase_change_data_Perrys2_150.loc[cas]
        if row["Tmin"] <= temperature <= row["Tmax"]:
            heats["Perry 8e 2-150"] = EQ106(temperature, *(row[key] for key in ("Tc", "C1", "C2", "C3", "C4")))
    if cas in tables.phase_change_data_VDI_PPDS_4.index:
        row = tables.phase_change_data_VDI_PPDS_4.loc[cas]
        heats["VDI PPDS 4"] = PPDS12(temperature, *(row[key] for key in ("Tc", "A", "B", "C", "D", "E")))
    return {method: float(value) for method, value in heats.items() if np.isfinite(value)}


def heat_of_vaporisation_at(cas: str, temperature: float) -> dict[str, float]:
    """Return method -> heat of vaporisation [J/mol] at `temperature` [K], from the fitted correlations."""
    return _heats_of_vaporisation(cas, temperature)


def vapour_curves(cas: str) -> dict[str, VapourCurve]:
    """Return method -> vapour-pressure curve, best first, each with the range it was fitted over."""
    from chemicals import vapor_pressure as tables

    curves: dict[str, VapourCurve] = {}
    for method, table, equation in (
        ("Wagner, Poling", tables.Psat_data_WagnerPoling, "wagner 2.5, 5"),
        ("Wagner, McGarry", tables.Psat_data_WagnerMcGarry, "wagner 3, 6"),
        ("VDI PPDS 3", tables.Psat_data_VDI_PPDS_3, "wagner 2.5, 5"),
    ):
        if cas in table.index:
            row = table.loc[cas]
            low = row.get("Tmin", row.get("Tm"))
            numbers = tuple(float(row[key]) for key in ("A", "B", "C", "D", "Tc", "Pc"))
            curves[method] = VapourCurve(equation, numbers, float(low), float(row["Tc"]))
    if cas in tables.Psat_data_Perrys2_8.index:
        row = tables.Psat_data_Perrys2_8.loc[cas]
        numbers = tuple(float(row[key]) for key in ("C1", "C2", "C3", "C4", "C5"))
        curves["Perry 8e 2-8"] = VapourCurve("dippr 101", numbers, float(row["Tmin"]), float(row["Tmax"]))
    if cas in tables.Psat_data_AntoinePoling.index:
        row = tables.Psat_data_AntoinePoling.loc[cas]
        numbers = (float(row["A"]) * LN10, float(row["B"]) * LN10, float(row["C"]))
        curves["Antoine, Poling"] = VapourCurve("antoine", numbers, float(row["Tmin"]), float(row["Tmax"]))
    if cas in tables.Psat_data_Landolt_Antoine.index:
        row = tables.Psat_data_Landolt_Antoine.loc[cas]
        numbers = (float(row["A"]), float(row["B"]), float(row["C"]))
        curves["Antoine, Landolt-Boernstein"] = VapourCurve("antoine", numbers, float(row["Tmin"]), float(row["Tmax"]))
    return curves


@lru_cache(maxsize=256)
def candidates(identity: Identity) -> dict[str, dict[str, float]]:
    """Return property -> method -> value (SI, see `SI_UNIT`) of everything measured for one liquid.

    Enthalpies of formation are for 298.15 K, the density for 293.15 K, the heat of vaporisation and the
    molar volume for 298.15 K.
    """
    cas = identity.cas
    values = {name: _constants(cas, name) for name in _ORDER}
    values["density"] = _densities(cas, identity.molar_mass, DENSITY_TEMPERATURE)
    values["heat_of_vaporisation"] = _heats_of_vaporisation(cas, STANDARD_TEMPERATURE)
    return values | place_candidates(identity)


def place_candidates(identity: Identity) -> dict[str, dict[str, float]]:
    """Return Hansen parameters and molar volume as `candidates` does, without reading the other tables."""
    values = {f"hansen_{part}": _hansen(identity.cas, part) for part in "dph"}
    at_standard = _densities(identity.cas, identity.molar_mass, STANDARD_TEMPERATURE)
    return values | {"molar_volume": {method: identity.molar_mass / value for method, value in at_standard.items()}}


def read_all_tables() -> None:
    """Read every table of the open package that is used here.

    The package reads a table when it is first asked for and calls it read before it is: two threads that ask at once
    can find it half there. Every screening asks for this first, one thread at a time.
    """
    with _READING:
        import chemicals
        from thermo.unifac import load_unifac_ip

        load_unifac_ip()
        ethanol = identify("64-17-5")
        assert ethanol is not None
        candidates(ethanol)
        vapour_curves(ethanol.cas)
        chemicals.Tm(ethanol.cas)
        chemicals.MW(ethanol.cas)
