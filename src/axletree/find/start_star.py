"""From which bright star does the way to an object begin, or from what is in view already?

A star that the person recognises under this sky (`turning.recognised`), above the lowest altitude,
on the object's tube side with room there while the way lasts, nothing touched on the way, never
near the Sun. Of these the one from which the object is missed by least: every degree turned costs a
little.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

import numpy as np

from axletree.find.person import BRIGHT_STAR_MAG
from axletree.find.turning.arrival import miscounts, on_sky_deg2, shaft_covariance_deg2
from axletree.find.turning.by_circles import ByCircles, by_circles
from axletree.find.turning.knobs import KnobFigures, knob_figures
from axletree.find.turning.recognised import recognised_mag
from axletree.find.turning.seeking import NamedStars, Seeking, naked_eye_mag, named_stars, placed
from axletree.find.turning.shafts import ShaftTurns, SkyPlace, shaft_turns
from axletree.kit.frozen import dataclass
from axletree.mount.clearance.paths import TurnPath, best_paths
from axletree.mount.rig.kinematics import axis_angles, direction
from axletree.mount.room.ends import BEHIND
from axletree.mount.room.table import room
from axletree.mount.room.usable import usable_now
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.catalogue.stars import hipparcos_table, star_arrays, star_index
from axletree.sky.directions import azimuth_altitude_from_vector, separation_deg
from axletree.sky.positions.objects import object_positions

# So much brighter than the faintest star in the finder is one that stands out there in twilight,
# alone in its field (ours).
PLAIN_THERE_MAG = 0.5
# A star that needs a lock opened must lead so many times nearer than one that doesn't, for each
# lock (our figure): nobody likes to open locks in the dark.
LOCK_PRICE = 1.5
# What it takes to centre a star before the way begins, seconds (our figure).
CENTRE_S = 120.0
# How much later than planned it may still be centred, seconds (our figure).
LATE_S = 300.0


class StartRefusal(StrEnum):
    """Why the way doesn't begin at a star that somebody named."""

    NO_STAR = "no_star"  # a cluster, a planet
    BELOW_HORIZON = "below_horizon"
    TOO_LOW = "too_low"  # for the kit's lowest altitude
    BEHIND_SKYLINE = "behind_skyline"
    TOO_FAINT = "too_faint"  # for the bare eye under this sky
    OTHER_SIDE = "other_side"  # the tube would have to change sides on the way
    NO_ROOM = "no_room"
    NEAR_SUN = "near_sun"
    WAY_NEAR_SUN = "way_near_sun"
    TOUCHES = "touches"  # on the way to the object
    AT_THE_POLE = "at_the_pole"  # so near that its hour angle is no help


@dataclass(frozen=True)
class StartStar:
    """A star to begin at: `place` (1,) on arrival, azimuth and altitude (as seen) likewise.

    `separation_deg` to the object on the sky; `miss_deg` the root of the mean square by which the
    turns from it miss the object, a miscounted turn included. `in_view`: it is no star that has to
    be recognised but what the tube has in view (its `hip` is 0 then). `by_circles`: the bare eye
    doesn't see it, both circles bring it into the finder; None: it does.
    """

    hip: int
    names: tuple[str, ...]
    magnitude_v: float | None
    place: SkyPlace
    azimuth_deg: float
    altitude_deg: float
    separation_deg: float
    miss_deg: float
    in_view: bool = False
    by_circles: ByCircles | None = None


def start_stars(
    seeking: Seeking, count: int = 3, faintest_mag: float | None = None
) -> tuple[StartStar, ...]:
    """The best stars to begin at, best first; () where there is none.

    The object itself is taken as it is: whoever asks knows that it may be shown on this side.
    `faintest_mag`: down to which, dimmed by the air, instead of those that the bare eye knows.
    """
    listed = named_stars(seeking, proper=True)
    up = listed.places.altitude_deg[:, 0] >= seeking.mounted.kit.habits.lowest_altitude_deg
    faintest = faintest_mag
    if faintest is None:
        faintest = recognised_mag(seeking.sky.sky_mag_arcsec2, seeking.mounted.skill)
    known = np.flatnonzero(up & (listed.dimmed_mag <= faintest))
    if not len(known):
        return ()
    ways = WaysFrom.of(seeking, listed, known)
    good: list[StartStar] = []
    order = ways.order()
    several = count
    while order and len(good) < count:
        some, order = order[:several], order[several:]
        several *= 3  # asking for many at once is quicker, for who refuses much
        refused = ways.refusals(some)
        good += [ways.star(k) for k, no in zip(some, refused, strict=True) if no is None]
    return tuple(good[:count])


def start_by_circles(seeking: Seeking, finder_limit_mag: float) -> StartStar | None:
    """Where the bare eye knows no star: the one to begin at that both circles bring into the
    finder's field; of some the one with the least miss over that chance, None where there is none.

    `finder_limit_mag`: the faintest that shows in the finder, dimmed by the air.
    """
    faintest = min(BRIGHT_STAR_MAG, finder_limit_mag - PLAIN_THERE_MAG)
    found: list[tuple[float, StartStar]] = []
    for star in start_stars(seeking, 3, faintest):
        led = by_circles(seeking.mounted, star.place, seeking.arrival)
        if led is not None and led.chance > 0.0:
            found.append((star.miss_deg / led.chance, replace(star, by_circles=led)))
    return min(found, key=lambda one: one[0], default=(0.0, None))[1]


def star_named(seeking: Seeking, text: str) -> StartStar | StartRefusal:
    """The star that somebody wants to begin at, or why not; an unknown name is an error."""
    meant = find(text)
    if not meant.catalogue_id.startswith("HIP "):
        return StartRefusal.NO_STAR
    hip = int(meant.catalogue_id[4:])
    row = star_index(hip)
    if row is None:
        return StartRefusal.NO_STAR
    names = (meant.name, *meant.common_names)
    listed = placed(seeking, star_arrays([hipparcos_table()[row : row + 1]]), (names,))
    altitude = float(listed.places.altitude_deg[0, 0])
    if altitude < 0.0:
        return StartRefusal.BELOW_HORIZON
    if altitude < seeking.mounted.kit.habits.lowest_altitude_deg:
        return StartRefusal.TOO_LOW
    if listed.dimmed_mag[0] > naked_eye_mag(seeking):
        return StartRefusal.TOO_FAINT
    ways = WaysFrom.of(seeking, listed, np.array([0]))
    no = ways.refusals([0])[0]
    if no is StartRefusal.NO_ROOM:
        return ways.why_no_room(0)
    return ways.star(0) if no is None else no


def start_here(seeking: Seeking, thing: SkyObject) -> StartStar | StartRefusal:
    """The beginning at an object that stands in the middle on this tube side, or why not.

    Nobody takes it for another thing, and it is centred anyhow; otherwise it serves as a star does.
    """
    places = object_positions([thing], seeking.arrival[:1], seeking.mounted.observer)
    if float(places.altitude_deg[0, 0]) <= 0.0:
        return StartRefusal.BELOW_HORIZON
    magnitude = np.array([np.nan if thing.magnitude_v is None else thing.magnitude_v])
    # A row of the list of stars to hold what it is called and how bright; its place isn't asked.
    row = replace(star_arrays([hipparcos_table()[:1]]), number=np.array([0]), magnitude_v=magnitude)
    listed = NamedStars(row, ((thing.name, *thing.common_names),), places, magnitude)
    ways = WaysFrom.of(seeking, listed, np.array([0]))
    no = ways.refusals([0])[0]
    if no is not None:
        return ways.why_no_room(0) if no is StartRefusal.NO_ROOM else no
    return replace(ways.star(0), magnitude_v=thing.magnitude_v, in_view=True)


@dataclass(frozen=True)
class WaysFrom:
    """The ways from some stars of a list to the object: rows `which` (n,), turns, misses (n,)."""

    seeking: Seeking
    listed: NamedStars
    which: Ints
    knobs: tuple[KnobFigures, KnobFigures]
    turns: ShaftTurns
    miss_deg: Floats

    @classmethod
    def of(
        cls, seeking: Seeking, listed: NamedStars, which: Ints,
        knobs: tuple[KnobFigures, KnobFigures] | None = None,
    ) -> WaysFrom:  # fmt: skip
        """With the mount's own knobs, or with one that is left alone (`KnobFigures.left_alone`)."""
        mounted = seeking.mounted
        knobs = knob_figures(mounted) if knobs is None else knobs
        turns = shaft_turns(mounted, listed.place(which), seeking.thing, knobs)
        spread = on_sky_deg2(turns, shaft_covariance_deg2(mounted, turns, knobs))
        miss2 = np.trace(spread, axis1=-2, axis2=-1)
        wrong = miscounts(mounted, turns, knobs)
        for k, knob in enumerate(knobs):
            step = np.linalg.norm(turns.to_object[..., k], axis=-1) * (knob.degrees_per_turn or 0.0)
            miss2 = miss2 + wrong[..., k] * step**2
        return cls(seeking, listed, which, knobs, turns, np.sqrt(miss2))

    def order(self) -> list[int]:
        """Those that the tube reaches, least miss first; a lock to be opened counts as a miss."""
        fine = self.turns.reached & self.turns.told
        opened = sum(
            ~knob.by_knob(turn)
            for knob, turn in zip(
                self.knobs, (self.turns.hour_deg, self.turns.declination_deg), strict=True
            )
        )
        cost = self.miss_deg * LOCK_PRICE ** np.asarray(opened)
        return [int(k) for k in np.argsort(cost) if fine[k]]

    def star(self, k: int) -> StartStar:
        """One of them."""
        row = int(self.which[k])
        place, thing = self.listed.place(row), self.seeking.thing
        apart = separation_deg(
            15.0 * place.hour_angle_h, place.declination_deg,
            15.0 * thing.hour_angle_h, thing.declination_deg,
        )  # fmt: skip
        return StartStar(
            hip=int(self.listed.stars.number[row]),
            names=self.listed.names[row],
            magnitude_v=float(self.listed.stars.magnitude_v[row]),
            place=place,
            azimuth_deg=float(self.listed.places.azimuth_deg[row, 0]),
            altitude_deg=float(self.listed.places.altitude_deg[row, 0]),
            separation_deg=float(apart[0]),
            miss_deg=float(self.miss_deg[k]),
        )

    def refusals(self, some: list[int]) -> list[StartRefusal | None]:
        """Why the way begins at none of these; None where it may."""
        if not some:
            return []
        seeking = self.seeking
        begin = self.listed.place(self.which[some]).before(self.turns.seconds[some])
        stays = self._stays(begin)
        near, awake = self._near_sun(some)
        ways = self._paths(begin)
        sunny = self._ways_near_sun(ways) if awake else [False] * len(ways)
        found: list[StartRefusal | None] = []
        for j, (k, way) in enumerate(zip(some, ways, strict=True)):
            if not (self.turns.reached[k] and self.turns.told[k]):
                found.append(StartRefusal.AT_THE_POLE)
            elif near[j]:
                found.append(StartRefusal.NEAR_SUN)
            elif not stays[j]:
                found.append(StartRefusal.NO_ROOM)
            elif way.least_m < seeking.table.margin_m:
                found.append(StartRefusal.TOUCHES)
            else:
                found.append(StartRefusal.WAY_NEAR_SUN if sunny[j] else None)
        return found

    def _stays(self, begin: SkyPlace) -> Mask:
        """Whether the stars (n,) are open to the tube while they are centred, and a while longer.

        Rooms are longer than that while: what is open before, at and after it is open throughout.
        """
        moments = np.array([CENTRE_S, 0.0, -LATE_S])[:, None]
        then = begin.before(moments)
        declination = np.broadcast_to(begin.declination_deg, then.hour_angle_h.shape)
        side = self.seeking.mounted.side
        open_then = usable_now(self.seeking.table, side, then.hour_angle_h, declination)
        return np.asarray(np.all(open_then, axis=0))

    def why_no_room(self, k: int) -> StartRefusal:
        """What is the matter with a star that has no room on this side."""
        begin = self.listed.place(self.which[[k]]).before(self.turns.seconds[[k]])
        rooms = room(self.seeking.table, begin.hour_angle_h, begin.declination_deg)
        side = 0 if self.seeking.mounted.side > 0 else 1
        if rooms.ends[side, 0] == BEHIND:
            return StartRefusal.BEHIND_SKYLINE
        if not rooms.usable[side, 0] and rooms.usable[1 - side, 0]:
            return StartRefusal.OTHER_SIDE
        return StartRefusal.NO_ROOM

    def _near_sun(self, some: list[int]) -> tuple[Mask, bool]:
        """Which stars (n,) are too near the Sun, and whether it is up or about to rise at all."""
        seeking, rows = self.seeking, self.which[some]
        places, lasts = self.listed.places, float(np.max(self.turns.seconds[some])) + CENTRE_S
        near = seeking.sun.near_sun(
            seeking.arrival[:1], places.azimuth_deg[rows], places.altitude_deg[rows], lasts
        )
        return np.asarray(near.closed[:, 0]), bool((near.up | near.rises).any())

    def _paths(self, begin: SkyPlace) -> list[TurnPath]:
        table, side = self.seeking.table, self.seeking.mounted.side
        goal_h, goal_w = axis_angles(
            table.axes, side, self.seeking.thing.hour_angle_h, self.seeking.thing.declination_deg
        )
        from_h, from_w = axis_angles(table.axes, side, begin.hour_angle_h, begin.declination_deg)
        goal = float(goal_h[0]), float(goal_w[0])
        turns = [((float(h), float(w)), goal) for h, w in zip(from_h, from_w, strict=True)]
        return best_paths(table.rig, table.axes, table.bodies, turns, table.margin_m)

    def _ways_near_sun(self, ways: list[TurnPath]) -> list[bool]:
        """Whether the tube sweeps past the Sun between the star and the object."""
        seeking = self.seeking
        looks = direction(
            seeking.table.axes,
            np.concatenate([way.tube_end_h for way in ways]),
            np.concatenate([way.swing_deg for way in ways]),
        )
        azimuth, altitude = azimuth_altitude_from_vector(looks)
        closed = seeking.sun.closed(
            seeking.arrival[:1], azimuth[:, None], altitude[:, None], CENTRE_S
        )
        edges = np.cumsum([len(way.tube_end_h) for way in ways])[:-1]
        return [bool(part.any()) for part in np.split(closed[:, 0], edges)]
