"""Which comets and minor planets do the kit's files of elements hold?

Public: ``read_elements``, ``elements_of_kit``, ``ElementsList``, ``moving_objects``,
``bright_objects``.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

import numpy as np

from axletree.evening.brought.own_objects import BrokenRow
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.reading.beside import beside
from axletree.kit.reading.files import text_of_file
from axletree.kit.reading.table import MOST_ROWS, RowError
from axletree.sky.catalogue.names import fold
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.brightness import coma_arcmin
from axletree.sky.orbits.lines import BodyLine, LineError, read_line
from axletree.sky.orbits.orbit import Orbit
from axletree.sky.positions.orbiting import OrbitSights, orbit_sights
from axletree.sky.positions.pulled import pulled
from axletree.sky.time.instants import Instants

LARGEST_BYTES = 5_000_000
# Fainter by the elements than any amateur's tube shows; and so many at most, the brightest.
FAINTEST_MAG, MOST_OBJECTS = 16.0, 200
# The minor planets' own list begins with a text that ends in a line of dashes.
_HEAD_LINES = 200


@dataclass(frozen=True)
class ElementsList:
    """The bodies that could be read, and the lines that could not."""

    bodies: tuple[BodyLine, ...]
    broken: tuple[BrokenRow, ...] = ()


def elements_of_kit(kit: Kit, folder: Path | None) -> ElementsList:
    """All bodies of the kit's `elements_files`, which lie beside it; of one that stands in two of
    them the first."""
    bodies: dict[str, BodyLine] = {}
    broken: list[BrokenRow] = []
    for name in kit.habits.elements_files:
        file = beside(name, folder, "habits.elements_files", "comets.txt")
        read = read_elements(text_of_file(file, LARGEST_BYTES, "a list"), str(file))
        broken += read.broken
        for one in read.bodies:
            bodies.setdefault(fold(one.name.key), one)
    return ElementsList(tuple(bodies.values()), tuple(broken))


@lru_cache(maxsize=8)
def read_elements(text: str, source: str) -> ElementsList:
    """The bodies of a text in the Minor Planet Center's formats, both kinds mixed as they come.

    A broken line is named and the rest kept; empty lines, lines that begin with '#' and a head
    that ends in a line of dashes are passed over. Refuses a text without any line that can be
    read, and one of too many.
    """
    bodies: list[BodyLine] = []
    broken: list[BrokenRow] = []
    first_of: dict[str, int] = {}
    lines = _lines(text)
    if len(lines) > MOST_ROWS:
        raise AxletreeError(f"{source}: more than {MOST_ROWS} lines; keep those that you look for")
    for number, line in lines:
        try:
            one = read_line(line)
        except LineError as error:
            where = f"columns {error.columns}" if error.columns else ""
            broken.append(BrokenRow(number, RowError(source, number, where, error.why)))
            continue
        key = fold(one.name.key)
        if key in first_of:
            why = f"'{one.name.name}' stands in line {first_of[key]} already"
            broken.append(BrokenRow(number, RowError(source, number, "", why)))
            continue
        first_of[key] = number
        bodies.append(one)
    if not bodies:
        if broken:
            more = len(broken) - 1
            raise AxletreeError(f"{broken[0].refusal}" + (f" (and {more} more)" if more else ""))
        raise AxletreeError(f"{source}: empty, no line of elements")
    return ElementsList(tuple(bodies), tuple(broken))


def _lines(text: str) -> list[tuple[int, str]]:
    """Number and text of each line that may hold elements."""
    lines = text.split("\n")
    head = 0
    for k, line in enumerate(lines[:_HEAD_LINES]):
        if line.strip() and not line.strip().strip("-") and len(line.strip()) >= 10:
            head = k + 1
    return [
        (number, line.rstrip("\r\n\f"))
        for number, line in enumerate(lines[head:], start=head + 1)
        if line.strip() and not line.startswith("#")
    ]


def bright_objects(bodies: Sequence[BodyLine], now: Instants) -> list[SkyObject]:
    """The bodies that the elements make brighter than `FAINTEST_MAG` at a moment (1,), as objects;
    those of unknown brightness can only be asked for by name."""
    if not bodies:
        return []
    light = orbit_sights([one.orbit for one in bodies], now).magnitude[:, 0]
    order = np.argsort(np.where(np.isfinite(light), light, np.inf), kind="stable")
    kept = [k for k in order[:MOST_OBJECTS].tolist() if light[k] <= FAINTEST_MAG]
    return moving_objects([bodies[k] for k in kept], now)


def moving_objects(bodies: Sequence[BodyLine], now: Instants) -> list[SkyObject]:
    """The bodies as objects whose orbits hold at a moment (1,), the planets' pull followed."""
    if not bodies:
        return []
    orbits = pulled([one.orbit for one in bodies], float(now.tt1[0] + now.tt2[0]))
    sights = orbit_sights(orbits, now)
    return [_object(one, orbits[k], sights, k) for k, one in enumerate(bodies)]


def _object(one: BodyLine, orbit: Orbit, sights: OrbitSights, k: int) -> SkyObject:
    """One object; its catalogue place is that at the moment, from the Earth's centre."""
    light = float(sights.magnitude[k, 0])
    comet = one.orbit.comet
    wide = coma_arcmin(float(sights.distance_au[k, 0])) if comet else None
    return SkyObject(
        name=one.name.name,
        kind="comet" if comet else "minor planet",
        ra_deg=float(sights.ra_deg[k, 0]),
        dec_deg=float(sights.dec_deg[k, 0]),
        magnitude_v=round(light, 2) if np.isfinite(light) else None,
        magnitude_guessed=True,
        size_major_arcmin=wide,
        size_minor_arcmin=wide,
        catalogue_id=f"{'comet' if comet else 'minor planet'}:{one.name.key}",
        orbit=orbit,
    )
