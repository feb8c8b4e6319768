"""How is the finder set to look where the tube looks: how well, on what, from how far away?

By day on a thing on the ground, so far off that the two axes' distance from each other doesn't
count; from dusk on, on the first bright star or planet. Nothing near the Sun while any of it is up.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.find.instruments import Instrument, InstrumentKind, instruments_of
from axletree.find.person import skill_of
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import SIDE_WORDS, SIDES, axis_angles
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room
from axletree.mount.room.usable import usable_now
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.star_names import names_of, star_names
from axletree.sky.catalogue.stars import stars
from axletree.sky.events.twilight import CIVIL_DEG
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.stars import star_positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants

# Of what finder and tube may differ by, so much may come from a thing that is near (ours).
PARALLAX_PART = 0.1
# However unsure the hand, so much of the eyepiece's radius is asked of the screws (ours).
LEAST_PART = 0.25
# How long the thing must stay in reach: two looks through either and the screws (ours).
LASTS_S = 900.0
# What shows to the bare eye at dusk, and how much more a degree of the Sun's depression brings: the
# first magnitude at the end of civil dusk (common practice, no source).
DUSK_MAG, MAG_PER_DEG, FAINTEST_MAG = 1.0, 0.4, 2.0
# Higher than this a straight finder breaks the neck (common practice, no source).
HIGHEST_DEG = 70.0
# So much more turning of the mount is worth a thing a magnitude brighter (ours).
TURN_PER_MAG_DEG = 60.0
_PLANETS = ("venus", "mars", "jupiter", "saturn")


@dataclass(frozen=True)
class BrightThing:
    """A star or planet to set the finder on.

    `hip` 0 for a planet, whose name is in `names`. `turn_deg` of both axes from the tube that looks
    along the polar axis, weights down.
    """

    names: tuple[str, ...]
    hip: int
    magnitude_v: float
    azimuth_deg: float
    altitude_deg: float
    side: str
    turn_deg: float


@dataclass(frozen=True)
class FinderMatch:
    """How to set a finder.

    What stands in the middle of the finder may be `within_deg` off the middle of the weakest
    eyepiece, half whose field, less `centring_deg` of the person's own, that is. `in_finder` tells
    the same in parts of the finder's field from edge to edge, or of a plain sight's smallest ring's
    radius. `far_m`: a thing on the ground is at least so far away, as finder and tube are
    `offset_mm` apart. `daylight`: things on the ground are seen; `sun_up`: some of the Sun is up,
    `sun_distance_deg`: how far to keep away from it then. `bright` is what else to set it on, None
    where nothing shows that stands well.
    """

    kind: InstrumentKind
    within_deg: float
    centring_deg: float
    in_finder: float
    far_m: float
    offset_mm: float
    daylight: bool
    sun_up: bool
    sun_distance_deg: float
    bright: BrightThing | None


def finder_match(
    kit: Kit, observer: Observer, table: RoomTable, at: Instants
) -> FinderMatch | None:
    """How to set this kit's finder at `at` (the first instant); None without one that we know.

    `table` is the room of this kit on this spot, its skyline in it.
    """
    pieces = instruments_of(kit)
    riding = [p for p in pieces if p.kind in (InstrumentKind.FINDER, InstrumentKind.PLAIN_SIGHT)]
    eyepieces = [p for p in pieces if p.kind is InstrumentKind.EYEPIECE]
    if not riding or not eyepieces or kit.tube.finder is None:
        return None
    size = _radius_deg(riding[0])
    centring = skill_of(kit.habits.observer).centre_field * size
    half = eyepieces[0].true_field_deg / 2.0
    within = max(half - centring, LEAST_PART * half)
    rule, now = SunRule.of(kit, observer), at[:1]
    sun = body_positions("sun", now, observer)
    depression = -float(sun.altitude_true_deg[0, 0])
    whole = 2.0 if riding[0].kind is InstrumentKind.FINDER else 1.0
    return FinderMatch(
        kind=riding[0].kind,
        within_deg=within,
        centring_deg=centring,
        in_finder=within / (whole * size),
        far_m=far_m(kit.tube.finder.offset_mm, within),
        offset_mm=kit.tube.finder.offset_mm,
        daylight=depression < CIVIL_DEG,
        sun_up=bool(rule.sun_is_up(now)[0]),
        sun_distance_deg=rule.distance_deg,
        bright=_bright(rule, table, now, shows_at_dusk_mag(depression)),
    )


def far_m(offset_mm: float, within_deg: float) -> float:
    """How far away a thing stands from which two axes so far apart differ by `PARALLAX_PART`."""
    return offset_mm / 1000.0 / math.tan(math.radians(PARALLAX_PART * within_deg))


def shows_at_dusk_mag(depression_deg: float) -> float:
    """The faintest thing that the bare eye is sure to meet with the Sun so far below (V)."""
    return min(DUSK_MAG + MAG_PER_DEG * (depression_deg - CIVIL_DEG), FAINTEST_MAG)


def _radius_deg(riding: Instrument) -> float:
    """Half the finder's field, or a plain sight's smallest ring."""
    return riding.rings_deg[0] if riding.rings_deg else riding.true_field_deg / 2.0


def _bright(
    rule: SunRule, table: RoomTable, now: Instants, faintest_mag: float
) -> BrightThing | None:
    """The brightest thing that needs little turning and stands well on a side with room."""
    listed = stars(FAINTEST_MAG, hipparcos_only=True)
    own = {star.hip for star in star_names() if star.proper}
    listed = listed.take(np.array([int(hip) in own for hip in listed.number]))
    fixed = star_positions(listed, now, rule.observer)
    moving = body_positions(_PLANETS, now, rule.observer)

    def both(name: str) -> Floats:
        return np.concatenate([getattr(fixed, name)[:, 0], getattr(moving, name)[:, 0]])

    magnitude = np.concatenate([listed.magnitude_v, moving.magnitude_v[:, 0]])
    altitude, azimuth = both("altitude_deg"), both("azimuth_deg")
    H, d = both("hour_angle_h"), both("declination_deg")
    stands = (altitude >= table.lowest_altitude_deg) & (altitude <= HIGHEST_DEG)
    stands &= magnitude <= faintest_mag
    stands &= ~rule.closed(now, azimuth[:, None], altitude[:, None], LASTS_S)[:, 0]
    rows = np.flatnonzero(stands)
    H, d = H[rows], d[rows]
    costs, turns = [], []
    for side in SIDES:
        end_h, swing = axis_angles(table.axes, side, H, d)
        turn = np.abs(end_h) * 15.0 + np.abs(swing)
        free = usable_now(table, side, H, d) & np.isfinite(turn)
        costs.append(np.where(free, magnitude[rows] + turn / TURN_PER_MAG_DEG, np.inf))
        turns.append(turn)
    cost = np.stack(costs)
    # The room is asked of the best alone, and of the next where it doesn't last: mostly once.
    for flat in np.argsort(cost, axis=None, kind="stable"):
        i, k = divmod(int(flat), len(rows))
        if not np.isfinite(cost[i, k]):
            return None
        place = room(table, H[k], d[k])
        if place.usable[i] and place.room_h[i] > LASTS_S * HOURS_PER_SECOND:
            break
    else:
        return None
    row, turned = int(rows[k]), float(turns[i][k])
    planet = row - len(listed.number)
    hip = 0 if planet >= 0 else int(listed.number[row])
    return BrightThing(
        names=(_PLANETS[planet].capitalize(),) if planet >= 0 else names_of(hip),
        hip=hip, magnitude_v=float(magnitude[row]), azimuth_deg=float(azimuth[row]),
        altitude_deg=float(altitude[row]), side=SIDE_WORDS[SIDES[i]], turn_deg=turned,
    )  # fmt: skip
