"""When do moons pass before, behind and through the shadow of their planet?

Times as seen from the Earth, light time included on both ways: a shadow's contact is the moment
when it can be seen from here. The places are those of the Earth's centre (`sight`).
"""

from __future__ import annotations

from datetime import UTC, datetime, tzinfo
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.events.crossings import narrow
from axletree.sky.moons.before_the_disc import before_disc, edge_distance_km, from_edge_km
from axletree.sky.moons.sight import SmoothSight, smooth_sight
from axletree.sky.moons.systems import SYSTEMS, MoonSystem
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.positions.poles import RADIUS_KM
from axletree.sky.time.instants import Instants, span


class MoonEvent(Enum):
    """What a moon does with its planet."""

    TRANSIT = "transit"  # the moon passes before the disc
    SHADOW = "shadow"  # its shadow passes over the disc
    OCCULTATION = "occultation"  # it passes behind the disc
    ECLIPSE = "eclipse"  # it passes through the planet's shadow


class Contact(Enum):
    """Which edge of the moon (or its shadow) meets the edge of the disc (or the planet's shadow).

    In the order of time. `MIDDLE` contacts are what almanacs print.
    """

    FIRST_EDGE_IN = "first_edge_in"
    MIDDLE_IN = "middle_in"
    LAST_EDGE_IN = "last_edge_in"
    FIRST_EDGE_OUT = "first_edge_out"
    MIDDLE_OUT = "middle_out"
    LAST_EDGE_OUT = "last_edge_out"


CONTACTS = tuple(Contact)
# Moon radii toward the middle of the disc of the point that touches, and whether it comes in.
_INWARD = np.array([1.0, 0.0, -1.0, -1.0, 0.0, 1.0])
_COMING = np.array([True, True, True, False, False, False])


@dataclass(frozen=True)
class ContactTime:
    """When one contact is seen from the Earth: aware time, error (s, one standard deviation).

    `seen` is False where nobody sees it: an eclipse's end behind the disc, a moon that goes
    behind the disc without light.
    """

    contact: Contact
    time: datetime
    doubt_s: float
    seen: bool


@dataclass(frozen=True)
class MoonPhenomenon:
    """One passage of one moon. `grazing`: it never lies wholly within, so times are poor."""

    planet: str
    moon: str
    event: MoonEvent
    contacts: tuple[ContactTime, ...]
    grazing: bool

    def at(self, contact: Contact) -> ContactTime | None:
        """The contact, if it happens."""
        return next((c for c in self.contacts if c.contact is contact), None)


@dataclass(frozen=True)
class PhenomenaTable:
    """Passages as arrays: (n,), and (n, 6) in the order of `CONTACTS`.

    `moon` counts the system's names, `event` counts `MoonEvent`; `seconds` from `base`, nan where
    a contact doesn't happen; `doubt_s` one standard deviation; `seen` as in `ContactTime`.
    """

    system: MoonSystem
    base: Instants
    moon: Ints
    event: Ints
    seconds: Floats
    doubt_s: Floats
    seen: Mask

    def told(self, zone: str | tzinfo = UTC) -> list[MoonPhenomenon]:
        """The same as one object a passage, times in `zone`, in the order of their middles."""
        kinds = tuple(MoonEvent)
        known = np.isfinite(self.seconds)
        moments = iter(self.base.plus(self.seconds[known]).to_datetimes(zone))
        found = []
        for k in range(len(self.moon)):
            contacts = tuple(
                ContactTime(c, next(moments), float(self.doubt_s[k, j]), bool(self.seen[k, j]))
                for j, c in enumerate(CONTACTS)
                if known[k, j]
            )
            found.append(
                MoonPhenomenon(
                    planet=self.system.planet,
                    moon=self.system.names[self.moon[k]],
                    event=kinds[self.event[k]],
                    contacts=contacts,
                    grazing=not known[k].all(),
                )
            )
        return found


def moon_phenomena(
    planet: str,
    start: datetime,
    stop: datetime,
    zone: str | tzinfo = UTC,
    ephemeris: Ephemeris | None = None,
) -> list[MoonPhenomenon]:
    """Every passage of the moons of "jupiter" or "saturn" (Titan) that touches start to stop.

    In the order of their middles; dates outside the kernel (2020-2050) are refused.
    """
    base, length_s = span(start, stop)
    return phenomena_table(planet, base, length_s, ephemeris).told(zone)


def phenomena_table(
    planet: str, base: Instants, length_s: float, ephemeris: Ephemeris | None = None
) -> PhenomenaTable:
    """The same as arrays, for `length_s` seconds from `base` (1,)."""
    system = SYSTEMS[planet]
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    seen_from = smooth_sight(planet, base, length_s, kernel)
    half_s = 1.4 * (RADIUS_KM[planet] + 2.0 * system.radius_km) / system.speed_km_s
    moon, from_sun, middle = _conjunctions(system, seen_from, half_s, length_s)
    seconds = _contacts(system, seen_from, moon, from_sun, middle, half_s)
    first, last = seconds[:, 0], seconds[:, 5]
    kept = np.isfinite(first) & np.isfinite(last) & (last >= 0.0) & (first <= length_s)
    rows = np.flatnonzero(kept)
    rows = rows[np.lexsort((moon[rows], middle[rows]))]
    moon, from_sun, middle, seconds = moon[rows], from_sun[rows], middle[rows], seconds[rows]
    line = before_disc(system, moon, from_sun, seen_from.at(middle))
    near = line.z > 0.0
    event = np.where(near, np.where(from_sun, 1, 0), np.where(from_sun, 3, 2))
    doubt, shown = _doubt_and_seen(system, seen_from, moon, from_sun, seconds)
    return PhenomenaTable(system, base, moon, event, seconds, doubt, shown | near[:, np.newaxis])


def _conjunctions(
    system: MoonSystem, seen_from: SmoothSight, half_s: Floats, length_s: float
) -> tuple[Ints, Mask, Floats]:
    """Moon, line and second of each passage through the planet's axis, a little beyond the span."""
    parts: list[tuple[int, bool, Floats]] = []
    for number, period in enumerate(system.period_days):
        margin = half_s[number]
        step = period * 86400.0 / 12.0  # x changes its sign every half period
        count = int(np.ceil((length_s + 2.0 * margin) / step)) + 1
        times = np.linspace(-margin, length_s + margin, max(count, 2))
        parts += [(number, line, times) for line in (False, True)]
    moon = np.concatenate([np.full(len(t), m) for m, _, t in parts])
    from_sun = np.concatenate([np.full(len(t), line) for _, line, t in parts])
    seconds = np.concatenate([t for _, _, t in parts])
    x = before_disc(system, moon, from_sun, seen_from.at(seconds)).x
    same = (moon[1:] == moon[:-1]) & (from_sun[1:] == from_sun[:-1])
    k = np.flatnonzero(same & ((x[1:] < 0.0) != (x[:-1] < 0.0)))
    moon, from_sun = moon[k], from_sun[k]
    middle = narrow(
        lambda s: before_disc(system, moon, from_sun, seen_from.at(s)).x,
        seconds[k], seconds[k + 1], x[k], x[k + 1], 5.0,
    )  # fmt: skip
    return moon, from_sun, middle


def _contacts(
    system: MoonSystem, seen_from: SmoothSight, moon: Ints, from_sun: Mask, middle: Floats,
    half_s: Floats,
) -> Floats:  # fmt: skip
    """Seconds of the six contacts of each conjunction (n, 6); nan where there is none."""
    shape = (len(moon), 6)
    m = np.repeat(moon, 6)
    line = np.repeat(from_sun, 6)
    inward = np.tile(_INWARD, len(moon))
    centre = np.repeat(middle, 6)
    other = centre + np.where(np.tile(_COMING, len(moon)), -1.0, 1.0) * half_s[m]

    def outside(s: Floats, rows: Ints) -> Floats:
        return edge_distance_km(system, m[rows], line[rows], seen_from.at(s), inward[rows])

    every = np.arange(len(m))
    at_centre = outside(centre, every)
    rows = np.flatnonzero(at_centre < 0.0)
    far = outside(other[rows], rows)
    found = np.full(len(m), np.nan)
    rows, far = rows[far > 0.0], far[far > 0.0]
    found[rows] = narrow(
        lambda s: outside(s, rows), centre[rows], other[rows], at_centre[rows], far, 0.5
    )
    return found.reshape(shape)


def _doubt_and_seen(
    system: MoonSystem, seen_from: SmoothSight, moon: Ints, from_sun: Mask, seconds: Floats
) -> tuple[Floats, Mask]:
    """Errors (s) and whether the contact can be seen, each (n, 6)."""
    at = np.where(np.isfinite(seconds), seconds, np.nanmean(seconds, axis=1, keepdims=True))
    s, m, line = at.ravel(), np.repeat(moon, 6), np.repeat(from_sun, 6)
    step = 20.0
    n = len(s)
    # One call for this line a little before and after, and for the other line now.
    times = np.concatenate([s - step, s + step, s])
    moons, lines = np.tile(m, 3), np.concatenate([line, line, ~line])
    seen = seen_from.at(times)
    b = before_disc(system, moons, lines, seen)
    outside = from_edge_km(system.planet, b.x, b.y, b.tilt_rad)
    hidden = (outside[2 * n :] < 0.0) & (b.z[2 * n :] < 0.0)
    speed = np.abs(outside[n : 2 * n] - outside[:n]) / (2.0 * step)
    # How steeply the edge's distance answers to an error along and across the orbit.
    x, y = 0.5 * (b.x[:n] + b.x[n : 2 * n]), 0.5 * (b.y[:n] + b.y[n : 2 * n])
    across = np.maximum(np.hypot(x, y), 1.0)
    error = np.hypot(system.along_km[m] * x / across, system.across_km[m] * y / across)
    doubt = error / np.maximum(speed, 0.05 * system.speed_km_s[m])
    return np.where(np.isfinite(seconds), doubt.reshape(-1, 6), np.nan), ~hidden.reshape(-1, 6)
