"""Which clusters, nebulae and galaxies are there?  All of OpenNGC, with its known slips mended.

``deep_sky.csv`` (CC BY-SA 4.0): one row an object, J2000 degrees, sorted by identifier.

Changed against the source, besides units and words:
* duplicate and nonexistent entries are not rows; a duplicate's number is an alias of the object
  that it repeats;
* the row M102, a second M101, is gone; the number M102 goes to NGC 5866, as observing lists have
  it (the identification is disputed);
* Se1 and Se2 are Serpens;
* the Flame Nebula is NGC 2024, not IC 434;
* V is guessed where only B is known: B less the median B-V of objects of the same kind;
* magnitudes of the globular clusters and a few others are replaced (see deep_sky_mended);
* abbreviated star names inside object names are spelled out, and everyday names are added.
"""

from __future__ import annotations

import csv
import math
import re
import sqlite3
import sys
from pathlib import Path
from statistics import median

import pyongc
from deep_sky_mended import OTHER, V
from deep_sky_names import NAMES, RENAMED_IDS

KINDS = {
    "*": "star", "**": "double star", "*Ass": "star cloud", "OCl": "open cluster",
    "GCl": "globular cluster", "Cl+N": "cluster with nebula", "G": "galaxy",
    "GPair": "galaxy pair", "GTrpl": "galaxy triplet", "GGroup": "galaxy group",
    "PN": "planetary nebula", "HII": "emission nebula", "EmN": "emission nebula",
    "DrkN": "dark nebula", "Neb": "nebula", "RfN": "reflection nebula",
    "SNR": "supernova remnant", "Nova": "nova", "Other": "other",
}  # fmt: skip
HEADER = (
    "id", "kind", "ra_deg", "dec_deg", "constellation", "major_arcmin", "minor_arcmin",
    "position_angle_deg", "magnitude_b", "magnitude_v", "surface_brightness_mag_arcsec2",
    "hubble_type", "central_star_magnitude_v", "messier", "names", "aliases", "magnitude_v_guess",
)  # fmt: skip


def spaced(name: str) -> str:
    """'NGC0224' -> 'NGC 224', 'ESO056-115' -> 'ESO 56-115', 'IC1008 NED01' -> 'IC 1008 NED01'."""
    match = re.fullmatch(r"([A-Za-z]+) ?0*(\d+)(.*)", name)
    return f"{match[1]} {match[2]}{match[3]}" if match else name


def number(value: float | None, digits: int) -> str:
    """Shortest text of a rounded number, empty for a missing one."""
    if value is None:
        return ""
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def other_catalogues(row: sqlite3.Row) -> list[str]:
    """Identifiers a person may type; survey designations and our left-out list are dropped."""
    wanted = ("C ", "UGC ", "LBN ", "PGC ", "HD ", "HIP ", "Mel ", "PN ", "WDS ", "HCG ")
    words = [w.strip() for w in row["identifiers"].split(",")]
    if re.fullmatch(r"C\d{3}", row["name"]):
        words.append(f"C {row['name'][1:]}")
    return [re.sub(r"(?<= )0+(?=\d)", "", w) for w in words if w.startswith(wanted)]


def identifier(row: sqlite3.Row) -> str:
    """The name that this list files an entry under."""
    return RENAMED_IDS.get(row["name"], spaced(row["name"]))


def targets(row: sqlite3.Row) -> list[str]:
    """Names of the objects that a duplicate entry repeats."""
    found = [f"NGC{n.strip()}" for n in row["ngc"].split(",") if n.strip()]
    return found + [f"IC{n.strip()}" for n in row["ic"].split(",") if n.strip()]


def typical_colours(rows: list[sqlite3.Row]) -> dict[str, float]:
    """Median B-V of each kind with five measured objects or more, and '' for all together."""
    colours: dict[str, list[float]] = {}
    for row in rows:
        if row["bmag"] is not None and row["vmag"] is not None:
            for kind in (KINDS[row["type"]], ""):
                colours.setdefault(kind, []).append(row["bmag"] - row["vmag"])
    return {kind: median(found) for kind, found in colours.items() if len(found) >= 5}


def guess_v(row: sqlite3.Row, colours: dict[str, float]) -> float | None:
    measured = V.get(identifier(row), row["vmag"])
    if measured is not None or row["bmag"] is None:
        return measured
    return row["bmag"] - colours.get(KINDS[row["type"]], colours[""])


def make_row(row: sqlite3.Row, aliases: list[str], colours: dict[str, float]) -> tuple[str, ...]:
    name = identifier(row)
    messier = f"M{int(row['messier'])}" if row["messier"] else ""
    if row["name"] == "NGC5866":
        messier = "M102"
    common = NAMES.get(name)
    if common is None:
        common = [w.strip() for w in row["commonnames"].split(",") if w.strip()]
    cells = (
        name,
        KINDS[row["type"]],
        number(math.degrees(row["ra"]), 6),
        number(math.degrees(row["dec"]), 6),
        "Ser" if row["const"] in ("Se1", "Se2") else row["const"],
        number(row["majax"], 3),
        number(row["minax"], 3),
        number(row["pa"], 0),
        number(row["bmag"], 2),
        number(V.get(name, row["vmag"]), 2),
        number(row["sbrightn"], 2),
        row["hubble"],
        number(row["cstarvmag"], 2),
        messier,
        ";".join(common),
        ";".join(sorted({*aliases, *other_catalogues(row)} - {name})),
        number(guess_v(row, colours), 2),
    )
    mended = OTHER.get(name, {})
    return tuple(mended.get(column, cell) for column, cell in zip(HEADER, cells, strict=True))


def main(out: Path) -> None:
    database = sqlite3.connect(Path(pyongc.__file__).with_name("ongc.db"))
    database.row_factory = sqlite3.Row
    rows = database.execute("select * from objects").fetchall()
    kinds = {row["name"]: row["type"] for row in rows}
    aliases: dict[str, list[str]] = {}
    for row in rows:
        for target in targets(row) if row["type"] == "Dup" else ():
            if kinds.get(target, "Dup") != "Dup":
                aliases.setdefault(target, []).append(spaced(row["name"]))
    kept = [row for row in rows if row["type"] not in ("Dup", "NonEx")]
    colours = typical_colours(kept)
    table = sorted(make_row(row, aliases.get(row["name"], []), colours) for row in kept)
    unused = ({*NAMES, *V, *OTHER}) - {row[0] for row in table}
    if unused:
        raise SystemExit(f"facts about objects that are not there: {sorted(unused)}")
    with (out / "deep_sky.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADER)
        writer.writerows(table)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
