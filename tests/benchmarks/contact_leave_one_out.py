"""Leave-one-out over the clear published contacts: how often is a contact foretold rightly?

Run `PYTHONPATH=. python tests/benchmarks/contact_leave_one_out.py` for the table. Three ways of leaving out:

- "polymer": nothing that was seen of the polymer is used: the prediction alone;
- "fluid": nothing that was seen of the fluid, with any polymer, is used; other liquids with the same polymer are;
- "one sphere": the plain rule beside them: attacked where RED < 1 of the first published sphere, of the polymer or of
  the one that stands in for it, else safe.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pandas as pd
from scipy import stats

from screening.judgement.contact.evidence import published
from screening.judgement.contact.learning import learned_errors
from screening.judgement.contact.liquids import WettingLiquid, plain_liquid, shared_volume, wetting_liquids
from screening.judgement.contact.nature import polymer_nature
from screening.judgement.contact.outcome_words import SWELLS, WORDS
from screening.judgement.contact.prediction import predict_many
from screening.physics.contact.hansen_distance import distance_ratio, hansen_distance_squared
from screening.records.liquids.find_fuel import find_fuel
from screening.records.materials.spheres import load_near_polymers, load_spheres

FROZEN = Path(__file__).parents[1] / "published" / "contact_clear_pairs.csv"
WAYS = ("polymer", "fluid", "one sphere")


@dataclass(frozen=True)
class Score:
    """Counts of one way on one set; rates with their 95 % Clopper-Pearson interval by `rate`."""

    way: str
    set: str
    pairs: int
    right: int
    dangerous: int
    alarms: int
    unknown: int

    def rate(self, name: str) -> tuple[float, float, float]:
        """Return the share of all pairs and its 95 % interval."""
        count = getattr(self, name)
        low, high = stats.binomtest(count, self.pairs).proportion_ci(0.95)
        return count / self.pairs, float(low), float(high)


def frozen_pairs() -> pd.DataFrame:
    """Return the frozen list."""
    return pd.read_csv(FROZEN, keep_default_na=False)


@lru_cache(maxsize=256)
def liquids_of(fluid: str, cas: str) -> tuple[WettingLiquid, ...]:
    """Return the liquids of a fluid; of a chlorinated solvent those of the open tables."""
    try:
        return wetting_liquids(find_fuel(cas or fluid))
    except ValueError:
        return (plain_liquid(fluid, cas),)


def foretold(material: str, fluid: str, cas: str, way: str) -> str:
    """Return the outcome word, or "unknown"."""
    nature, liquids = polymer_nature(material), liquids_of(fluid, cas)
    if nature is None or not liquids:
        return "unknown"
    if way == "one sphere":
        return _one_sphere(material, liquids[0])
    errors = None
    if way == "fluid":
        kept = [e for e in published(nature) if shared_volume(e.shares, liquids[0].shares) < 0.98]
        errors = learned_errors(nature, kept, liquids)
    spread = predict_many(nature, [liquids], 296.15, [1.0], errors)[0]
    return "unknown" if spread is None else spread.word


def _one_sphere(material: str, liquid: WettingLiquid) -> str:
    near = load_near_polymers().get(material)
    ids = (material, *(near.stand_ins if near else ()))
    spheres = [sphere for id in ids for sphere in load_spheres().get(id, ()) if sphere.R0 > 0]
    if not spheres:
        return "unknown"
    ratio = distance_ratio(hansen_distance_squared(liquid.hansen, spheres[0].centre), spheres[0].R0)
    return "swells" if ratio < 1 else "none"


def scored_pairs(way: str) -> pd.DataFrame:
    """Return the frozen pairs with `word`, `foretold` (attacked, safe, unknown) and `verdict`."""
    pairs = frozen_pairs()
    pairs["word"] = [foretold(row.material, row.fluid, row.cas, way) for row in pairs.itertuples()]
    pairs["foretold"] = [
        "unknown" if word == "unknown" else "attacked" if WORDS.index(word) >= SWELLS else "safe"
        for word in pairs["word"]
    ]
    pairs["verdict"] = "right"
    pairs.loc[pairs["foretold"] != pairs["class"], "verdict"] = "alarm"
    pairs.loc[(pairs["class"] == "attacked") & (pairs["foretold"] == "safe"), "verdict"] = "dangerous"
    pairs.loc[pairs["foretold"] == "unknown", "verdict"] = "unknown"
    return pairs


def score(way: str, subset: str = "all") -> Score:
    """Return the score of one way of leaving out on "strict", "wide" or "all" pairs."""
    pairs = scored_pairs(way)
    if subset != "all":
        pairs = pairs[pairs["set"] == subset]
    counts = pairs["verdict"].value_counts()
    return Score(way, subset, len(pairs), *(int(counts.get(v, 0)) for v in ("right", "dangerous", "alarm", "unknown")))


def record() -> pd.DataFrame:
    """Return every way and set as `leave_one_out_table` takes it."""
    rows = []
    for way in WAYS:
        for subset in ("strict", "wide", "all"):
            found = score(way, subset)
            rates = {name: found.rate(name) for name in ("right", "dangerous", "alarms", "unknown")}
            rows.append({"way": way, "set": subset, "pairs": found.pairs, **rates})
    return pd.DataFrame(rows)


def leave_one_out_table(scores: pd.DataFrame) -> str:
    """Return the record as text; a row a way of leaving out and set, rates in per cent with intervals."""
    lines = ["Foretold with what was seen left out (share of pairs, 95 % interval):"]
    for row in scores.to_dict("records"):
        rates = ", ".join(
            f"{name} {100 * row[name][0]:.1f} % ({100 * row[name][1]:.1f}-{100 * row[name][2]:.1f})"
            for name in ("right", "dangerous", "alarms", "unknown")
        )
        lines.append(f"  {row['way']}, {row['set']}, {row['pairs']} pairs: {rates}")
    return "\n".join(lines)


if __name__ == "__main__":
    print(leave_one_out_table(record()))
    for left_out in WAYS[:2]:
        wrong = scored_pairs(left_out)
        print(f"\nleft out: {left_out}")
        print(wrong[wrong["verdict"] != "right"].sort_values(["verdict", "material"]).to_string(index=False))
