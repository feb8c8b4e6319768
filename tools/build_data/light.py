"""How does the light of galaxies, globular clusters and nebulae gather towards their middle?

``object_light.csv`` (CC BY-SA 4.0, made from deep_sky.csv): V, half-light radius along the long
axis, axis ratio and Sersic index (J. L. Sersic 1963) of galaxies to V 14, of globular clusters
(index empty: H. C. Plummer 1911) and of some sixty nebulae and star clouds, with whether these
nebulae shine in lines (1) or mirror light (0).

A galaxy's half-light radius is found from its own figures: the total B and the 25 mag/arcsec2
isophote in B fix the radius of a Sersic profile whose index follows from the Hubble type
(`INDICES`).  An isophote is known to a fifth and the answer to half, so that it is met half-way by
what is usual, `USUAL_PART` of the isophote's radius; figures by hand (light_by_hand.py) go before
both.  V is checked by colour: where B-V lies further from what is usual for the type than
`TOO_BLUE` or `TOO_RED`, V is B less the usual colour, for the isophote was measured in B too.
"""

from __future__ import annotations

import csv
import math
import re
import sys
from pathlib import Path

from light_by_hand import CLOUDS, GALAXIES, GLOBULARS, NEBULAE
from scipy.special import gamma, gammaincinv

FAINTEST_V = 14.0
ISOPHOTE_B = 25.0
USUAL_PART = 0.35  # half-light radius over that of the isophote: common practice, no source
TOO_BLUE, TOO_RED = 0.35, 0.45  # dust reddens; nothing makes a galaxy that blue
# Index and usual B-V by type.  Indices rise steadily with the bulge (after the shares of F. Simien
# and G. de Vaucouleurs 1986, ApJ 302, 564; the numbers are ours); colours of G. de Vaucouleurs
# et al. 1991, Third Reference Catalogue (from memory).
INDICES = {
    "E": (4.0, 0.92), "S0": (3.0, 0.88), "S0/a": (2.6, 0.85), "Sa": (2.4, 0.80), "Sab": (2.2, 0.75),
    "Sb": (2.0, 0.68), "Sbc": (1.7, 0.62), "Sc": (1.4, 0.55), "Scd": (1.2, 0.50), "Sd": (1.1, 0.48),
    "Sdm": (1.0, 0.45), "Sm": (1.0, 0.42), "I": (1.0, 0.42), "": (1.6, 0.65),
}  # fmt: skip
HEADER = (
    "id", "magnitude_v", "half_light_arcmin", "axis_ratio", "profile_index", "in_lines", "source",
)  # fmt: skip


def plain_type(hubble: str) -> str:
    """'SABbc?' -> 'Sbc', 'S0-a' -> 'S0/a', 'IBm' -> 'I'; '' where it says nothing."""
    text = hubble.replace("?", "").replace("-", "/").strip()
    if text.startswith("E"):
        return "E"
    if text.startswith("I"):
        return "I"
    match = re.match(r"S(?:AB|A|B)?(0/a|0|ab|a|bc|b|cd|c|dm|d|m)", text)
    return f"S{match[1]}" if match else ""


def radius_of_isophote(index: float, total_mag: float, axis_ratio: float, edge: float) -> float:
    """Half-light radius over the isophote's, for a total magnitude and an isophote of radius
    `edge` (arcsec); where no such profile reaches the isophote, that which comes nearest."""
    b = float(gammaincinv(2.0 * index, 0.5))
    least = (2.0 * index / b) ** index

    def light(x: float) -> float:
        whole = 2.0 * math.pi * index * math.exp(b * x ** (1.0 / index)) * b ** (-2.0 * index)
        return whole * float(gamma(2.0 * index)) / x**2

    wanted = 10.0 ** (-0.4 * (total_mag - ISOPHOTE_B)) / (axis_ratio * edge**2)
    low, high = least, 400.0 * least
    if wanted <= light(least):
        return 1.0 / least
    for _ in range(80):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if light(middle) < wanted else (low, middle)
    return 1.0 / low


def galaxy(row: dict[str, str]) -> tuple[float, float, float, float, str] | None:
    """V, half-light radius in arcminutes, axis ratio, index and source, if enough is known."""
    index, colour = INDICES[plain_type(row["hubble_type"])]
    if not row["major_arcmin"] or not (row["magnitude_b"] or row["magnitude_v"]):
        return None
    v = float(row["magnitude_v"] or "nan")
    b = float(row["magnitude_b"]) if row["magnitude_b"] else v + colour
    if not -TOO_BLUE <= b - v - colour <= TOO_RED:
        v = b - colour
    if v > FAINTEST_V:
        return None
    major = float(row["major_arcmin"])
    ratio = max(float(row["minor_arcmin"] or major) / major, 0.1)
    if row["id"] in GALAXIES:
        return v, GALAXIES[row["id"]], ratio, index, "hand"
    solved = radius_of_isophote(index, b, ratio, major * 30.0)
    return v, math.sqrt(solved * USUAL_PART) * major / 2.0, ratio, index, "isophote"


def lines(deep_sky: Path) -> list[tuple[str, ...]]:
    """The rows of the file, sorted by identifier."""
    found: list[tuple[str, ...]] = []
    with deep_sky.open(encoding="utf-8", newline="") as file:
        rows = {row["id"]: row for row in csv.DictReader(file)}
    unused = ({*GALAXIES, *GLOBULARS, *NEBULAE, *CLOUDS}) - set(rows)
    if unused:
        raise SystemExit(f"light of objects that are not there: {sorted(unused)}")
    for name, row in rows.items():
        light: tuple[float, float, float, float | None, str] | None = None
        if name in NEBULAE or name in CLOUDS:
            v, long, short, index = (NEBULAE[name][:4]) if name in NEBULAE else CLOUDS[name]
            light = v, long / 2.0, short / long, index, "hand"
        elif name in GLOBULARS:
            light = float(row["magnitude_v"]), GLOBULARS[name], 1.0, None, "hand"
        elif row["kind"] == "galaxy":
            light = galaxy(row)
        if light is not None:
            v, radius, ratio, index, source = light
            shape = "" if index is None else f"{index:g}"
            lines = f"{int(NEBULAE[name][4])}" if name in NEBULAE else ""
            found.append((name, f"{v:.2f}", f"{radius:.3g}", f"{ratio:.2f}", shape, lines, source))
    return sorted(found)


def main(out: Path) -> None:
    with (out / "object_light.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADER)
        writer.writerows(lines(out / "deep_sky.csv"))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
