"""Which published contacts are clear enough to judge a prediction by; frozen before any prediction was made.

Rule, in this order:

1. Rows at 15 to 40 degC, or with no temperature stated, count; others are left out.
2. Where a pair has a row "under load", its unloaded rows are left out: a printed part carries stress of its own.
3. A pair is in the set "strict" when one of its rows rests on the source's own words: it was looked up, or is
   remembered from a handbook, and its note does not say that the word is a translation of a resistance grade, of
   "non-solvent", or an analogy ("ours", "grade only", "as for ..."). A solvent listed for the raw gum or the
   polymer is the source's own word.
4. Else it is in the set "wide" when one of its rows has a word from an end of the scale (none, swells strongly,
   dissolves, stress cracks), however it was come by; a translated "slight" or "swells" decides nothing, because the
   line between safe and attacked lies between those two.
5. A pair is left out when any of its rows, also the ones that decide nothing, contradicts (safe against attacked), or
   when all its deciding rows state a swell within 4 to 6.5 %, on the line itself.

`python tests/benchmarks/contact_clear_pairs.py` prints the list as it would be frozen today.
"""

from __future__ import annotations

import sys

import pandas as pd

from screening.records.tables.package import read_table

SAFE = ("none", "slight")
ENDS = ("none", "swells strongly", "dissolves", "stress cracks")
TRANSLATED = "grade only|ours|non-solvent|as for |no solvent|nearest polymer|as PA6|as styrene|as commonly"


def clear_pairs() -> pd.DataFrame:
    """Return the clear pairs by the rule above: material, fluid, cas, attacked, set, how."""
    rows = read_table("contact_observations")
    temperature = rows["temperature_C"]
    rows = rows[temperature.between(15, 40) | temperature.isna()]
    found = []
    for (material, fluid), pair in rows.groupby(["material", "fluid"], sort=True):
        verdict = _verdict(pair)
        if verdict is not None:
            attacked, tier, how = verdict
            found.append((material, fluid, pair["cas"].iloc[0], "attacked" if attacked else "safe", tier, how))
    return pd.DataFrame(found, columns=["material", "fluid", "cas", "class", "set", "how"])


def _verdict(pair: pd.DataFrame) -> tuple[bool, str, str] | None:
    loaded = pair["state"] == "under load"
    if loaded.any():
        pair = pair[loaded | (pair["state"] != "unloaded")]
    attacked = ~pair["outcome"].isin(SAFE)
    if attacked.any() != attacked.all():
        return None
    on_the_line = pair["volume_change_percent"].between(4, 6.5)
    translated = pair["note"].str.contains(TRANSLATED) | (pair["how"] == "common practice")
    strict = pair[~translated & ~on_the_line]
    if len(strict):
        how = "looked up" if (strict["how"] == "looked up").any() else strict["how"].iloc[0]
        return bool(attacked.any()), "strict", how
    wide = pair[pair["outcome"].isin(ENDS) & ~on_the_line]
    if len(wide):
        return bool(attacked.any()), "wide", wide["how"].iloc[0]
    return None


if __name__ == "__main__":
    clear_pairs().to_csv(sys.stdout, index=False)
