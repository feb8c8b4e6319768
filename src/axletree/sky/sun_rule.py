"""Which directions are too near the Sun for any tube or eye, and until when?

The one rule that protects an eye. While any part of the Sun is above the horizon, or will be
before the stop ends plus ten minutes, nothing within the kit's distance of it gets a direction, a
step, a view or a stop. When it is down the distance doesn't count. Where the kit names filters for
tube and finder, the Sun's own disc may be shown, and still nothing beside it: nobody sees anything
else through such a filter, and whoever takes it off looks with the bare tube.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Mask
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import angle_between_deg, vector_from_azimuth_altitude
from axletree.sky.observer import Observer, observer_of
from axletree.sky.positions.bodies import body_places
from axletree.sky.positions.objects import object_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S, Instants

# The Sun's largest radius, in January: 959.63" at 1 au (IAU), at 0.9833 au.
SUN_RADIUS_DEG = 0.2711
# The Sun counts as up while its centre stands above this: its upper edge on the horizon, with
# average refraction (-0.833), rounded outwards.
SUN_UP_DEG = -0.85
# A stop that lasts longer than planned must not end in the sunrise.
AFTER_STOP_S = 600.0
_STEP_S = 60.0
# Nothing in the sky climbs faster than the Earth turns, and no air lifts a rising Sun by more.
_FASTEST_DEG_PER_S = 1.01 * SIDEREAL_RATE_ARCSEC_PER_S / 3600.0
_MOST_LIFT_DEG = 3.0


class SunReason(Enum):
    """Why nothing is shown there: what the Sun does while the stop would last."""

    UP = "up"
    RISES_BEFORE_THE_END = "rises_before_the_end"


@dataclass(frozen=True)
class SunRefusal:
    """One direction that is refused: how far from the Sun, and how far the kit keeps away.

    `itself`: it is the Sun's own disc. `tube_filter`, `finder_filter`: which filters the kit names.
    """

    reason: SunReason
    separation_deg: float
    distance_deg: float
    itself: bool
    tube_filter: bool
    finder_filter: bool

    @property
    def code(self) -> str:
        """Its name for programs."""
        return "no_filters" if self.itself else self.reason.value


@dataclass(frozen=True)
class NearSun:
    """Directions against the Sun, arrays (objects, instants) as they were asked.

    `separation_deg` from the Sun's centre; `closed` where nothing may be shown. `up` (instants,):
    the Sun is up then; `rises`: it comes up before the stop ends plus ten minutes.
    """

    separation_deg: Floats
    closed: Mask
    up: Mask
    rises: Mask


@dataclass(frozen=True)
class SunRule:
    """How far this kit keeps from the Sun at this spot."""

    observer: Observer
    distance_deg: float = 30.0
    tube_filter: bool = False
    finder_filter: bool = False

    @classmethod
    def of(cls, kit: Kit, observer: Observer | None = None) -> SunRule:
        """The rule of a kit; at its own site unless another observer is given."""
        finder = kit.tube.finder
        return cls(
            observer=observer_of(kit.site) if observer is None else observer,
            distance_deg=kit.habits.sun_distance_deg,
            tube_filter=kit.tube.solar_filter,
            finder_filter=finder is not None and finder.solar_filter,
        )

    @property
    def filtered(self) -> bool:
        """True where the Sun's own disc may be shown: filters for tube and finder."""
        return self.tube_filter and self.finder_filter

    def sun_is_up(self, instants: Instants) -> Mask:
        """Whether any part of the Sun is above the horizon, (instants,).

        Its centre stands above `SUN_UP_DEG` without air, or its upper edge is seen through air
        that is denser than usual.
        """
        return _is_up(body_places("sun", instants, self.observer))

    def near_sun(
        self,
        instants: Instants,
        azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
        lasts_s: float = 0.0,
    ) -> NearSun:
        """Where directions (objects, instants) are closed for a stop that begins then.

        Altitudes as seen through the air. `lasts_s` is how long the stop lasts, seconds.
        """
        sun = body_places("sun", instants, self.observer)
        up, rises = self._up_or_soon(instants, sun, lasts_s)
        return self._near(sun, (up, rises), azimuth_deg, altitude_deg)

    def _near(
        self, sun: Positions, awake: tuple[Mask, Mask], azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
    ) -> NearSun:  # fmt: skip
        """Directions against a Sun that is up or rises (`awake`), or doesn't."""
        apart = np.atleast_2d(
            angle_between_deg(
                vector_from_azimuth_altitude(azimuth_deg, altitude_deg),
                vector_from_azimuth_altitude(sun.azimuth_deg, sun.altitude_deg),
            )
        )
        up, rises = awake
        return NearSun(apart, (up | rises) & self._too_near(apart), up, rises)

    def closed(
        self,
        instants: Instants,
        azimuth_deg: ArrayLike,
        altitude_deg: ArrayLike,
        lasts_s: float = 0.0,
    ) -> Mask:
        """The same in short: True where nothing may be shown, (objects, instants)."""
        sun = body_places("sun", instants, self.observer)
        awake = self._up_or_soon(instants, sun, lasts_s)
        if not np.any(awake):
            return np.zeros(np.atleast_2d(azimuth_deg).shape, dtype=np.bool_)
        return self._near(sun, awake, azimuth_deg, altitude_deg).closed

    def closed_to_stops(
        self, instants: Instants, azimuth_deg: ArrayLike, altitude_deg: ArrayLike
    ) -> Mask:
        """True where no stop of any length may go on, for the instants of one session.

        What comes within the distance at any of them is closed at all those at which the Sun is up
        or will be within ten minutes: the Moon moves by a degree while a long stop lasts.
        """
        closed = self.closed(instants, azimuth_deg, altitude_deg)
        if not closed.any():
            return closed
        near = self.near_sun(instants, azimuth_deg, altitude_deg)
        ever = self._too_near(near.separation_deg).any(axis=1, keepdims=True)
        return np.asarray((near.up | near.rises) & ever)

    def refusals(
        self, objects: Sequence[SkyObject], begin: Instants, lasts_s: float
    ) -> list[SunRefusal | None]:
        """Why each object gets no stop from `begin` (one instant) on; None: it may have one.

        The stop lasts `lasts_s` seconds. The object's direction counts at the begin and at the
        end, for the Moon moves among the stars.
        """
        moments = Instants.from_datetimes(
            [*begin.to_datetimes(), *begin.plus(lasts_s).to_datetimes()]
        )
        places = object_positions(objects, moments, self.observer)
        found = [
            self.near_sun(
                moments[k],
                places.azimuth_deg[:, [k]],
                places.altitude_deg[:, [k]],
                lasts_s * (1 - k),
            )
            for k in range(2)
        ]
        return [self._refusal(found, row) for row in range(len(objects))]

    def _refusal(self, found: Sequence[NearSun], row: int) -> SunRefusal | None:
        closed = [near for near in found if near.closed[row, 0]]
        if not closed:
            return None
        near = closed[0]
        apart = float(near.separation_deg[row, 0])
        return SunRefusal(
            reason=SunReason.UP if near.up[0] else SunReason.RISES_BEFORE_THE_END,
            separation_deg=apart,
            distance_deg=self.distance_deg,
            itself=apart <= SUN_RADIUS_DEG,
            tube_filter=self.tube_filter,
            finder_filter=self.finder_filter,
        )

    def _too_near(self, separation_deg: Floats) -> Mask:
        near = separation_deg < self.distance_deg
        return near & (separation_deg > SUN_RADIUS_DEG) if self.filtered else near

    def _up_or_soon(self, instants: Instants, sun: Positions, lasts_s: float) -> tuple[Mask, Mask]:
        """Whether the Sun is up, and whether it only comes up before the stop ends and a while."""
        up = _is_up(sun)
        seconds = lasts_s + AFTER_STOP_S
        highest_deg = sun.altitude_true_deg[0] + seconds * _FASTEST_DEG_PER_S + _MOST_LIFT_DEG
        if not np.any(~up & (highest_deg > SUN_UP_DEG)):
            return up, np.zeros_like(up)
        steps = np.linspace(0.0, seconds, int(np.ceil(seconds / _STEP_S)) + 1)
        since = instants.seconds_since(instants[0])
        later = self.sun_is_up(instants[0].plus((since[:, np.newaxis] + steps).ravel()))
        return up, ~up & later.reshape(len(instants), len(steps)).any(axis=1)


def _is_up(sun: Positions) -> Mask:
    return np.asarray(
        (sun.altitude_true_deg[0] > SUN_UP_DEG) | (sun.altitude_deg[0] > -SUN_RADIUS_DEG)
    )
