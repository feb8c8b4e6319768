"""By how much do both shafts turn from a star to an object?

The star is centred some time before the tube arrives. Undriven, the sky turns meanwhile, and the
hour axis has to make up for it; driven, the motor does.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.circles import pointed_angles
from axletree.axis.frame import seen_from_mount_angles, seen_vectors
from axletree.axis.shown import shaft_angles
from axletree.axis.spread import each_of, propagated
from axletree.find.turning.knobs import KnobFigures, Mounted
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import cross, wrap_h
from axletree.sky.time.instants import SIDEREAL_HOURS_PER_S

_STEP_DEG = 1e-3
# An hour angle that is known worse than this isn't known by laws that don't bend (our figure).
MOST_HOUR_SIGMA_DEG = 5.0


@dataclass(frozen=True)
class SkyPlace:
    """Hour angle (h) and declination (degrees), apparent of date without air, of one thing or
    more; how fast the hour angle grows, hours a second of the clock."""

    hour_angle_h: Floats
    declination_deg: Floats
    hours_per_s: float = SIDEREAL_HOURS_PER_S

    @classmethod
    def of(cls, hour_angle_h: ArrayLike, declination_deg: ArrayLike) -> SkyPlace:
        """From numbers or arrays, which become arrays (n,)."""
        h, d = np.broadcast_arrays(np.atleast_1d(hour_angle_h), np.atleast_1d(declination_deg))
        return cls(h.astype(np.float64), d.astype(np.float64))

    def before(self, seconds: ArrayLike) -> SkyPlace:
        """The same so many seconds earlier."""
        earlier = self.hour_angle_h - np.asarray(seconds) * self.hours_per_s
        return SkyPlace(np.asarray(wrap_h(earlier)), self.declination_deg, self.hours_per_s)


@dataclass(frozen=True)
class ShaftTurns:
    """Turns of both shafts from each of some stars (n,) to one object, degrees, west and north.

    `hour_deg` and `declination_deg` are what the hands turn; `hour_circle_deg` how far the hour
    shaft goes in all, which is more by the motor's turn where one drives. `seconds` from the star
    centred to the object in view. `from_star` and `to_object` (n, 2, 2) carry the turns of both
    shafts (rows of the sky: east, north; columns: hour, declination) to degrees on the sky at both
    ends. `model_covariance_deg2` (n, 2, 2) of the turns, by what isn't known of the mount.
    `reached`: whether the tube gets to both.
    """

    hour_deg: Floats
    declination_deg: Floats
    hour_circle_deg: Floats
    seconds: Floats
    from_star: Floats
    to_object: Floats
    model_covariance_deg2: Floats
    reached: Mask

    @property
    def told(self) -> Mask:
        """Whether the mount's errors leave the hour angle known, (n,): not next to the pole."""
        variance = self.model_covariance_deg2[..., 0, 0]
        return np.asarray(np.sqrt(variance) <= MOST_HOUR_SIGMA_DEG)


def shaft_turns(
    mounted: Mounted, star: SkyPlace, thing: SkyPlace, knobs: tuple[KnobFigures, KnobFigures]
) -> ShaftTurns:
    """Exact turns: refraction, axis, cone and lean are in them; the index errors cancel.

    `star` (n,) and `thing` (1,) are places at the time of arrival.
    """
    first = _between(mounted, star, thing).turn_deg
    return turns_within(mounted, star, thing, way_seconds(mounted, first, knobs))


def waiting_s(mounted: Mounted, star: SkyPlace, thing: SkyPlace) -> Floats:
    """How long (n,) before arrival the stars stood where the hour axis needn't turn: seconds.

    Negative where the star follows the object. The sky brings the object there by itself.
    """
    seconds = np.zeros_like(star.hour_angle_h)
    for _ in range(3):
        turn = _between(mounted, star.before(seconds), thing).turn_deg
        seconds = seconds - turn[..., 0] / 15.0 / star.hours_per_s
    return np.asarray(seconds)


def turns_within(mounted: Mounted, star: SkyPlace, thing: SkyPlace, seconds: Floats) -> ShaftTurns:
    """The turns from stars (n,) that were centred so many seconds (n,) before arrival."""
    found = _between(mounted, star.before(seconds), thing)
    motor = seconds * star.hours_per_s * 15.0 if mounted.driven else np.zeros_like(seconds)
    ends = _on_sky(mounted, *found.shafts)
    return ShaftTurns(
        hour_deg=found.turn_deg[..., 0] - motor,
        declination_deg=found.turn_deg[..., 1],
        hour_circle_deg=found.turn_deg[..., 0],
        seconds=seconds,
        from_star=ends[:-1],
        to_object=np.broadcast_to(ends[-1:], (*seconds.shape, 2, 2)),
        model_covariance_deg2=_model_part(mounted, found.seen),
        reached=found.reached,
    )


def way_seconds(
    mounted: Mounted, turn_deg: Floats, knobs: tuple[KnobFigures, KnobFigures]
) -> Floats:
    """How long turns (n, 2) take, with a look at the end."""
    skill = mounted.skill
    total = np.full(turn_deg.shape[:-1], skill.look_s)
    for k, knob in enumerate(knobs):
        turn = np.abs(turn_deg[..., k])
        by_knob = np.zeros_like(turn)
        if knob.degrees_per_turn is not None:
            by_knob = turn / knob.degrees_per_turn * skill.turn_s + skill.begin_axis_s
        total = total + np.where(knob.by_knob(turn), by_knob, skill.lock_s)
    return np.asarray(total)


@dataclass(frozen=True)
class _Between:
    """Stars (n,) and, last, the object (n + 1,): where they are seen, the shafts' angles there
    (hours, degrees); the turns (n, 2) from each star to the object, and whether both are reached.
    """

    seen: Floats
    shafts: tuple[Floats, Floats]
    turn_deg: Floats
    reached: Mask


def _between(mounted: Mounted, star: SkyPlace, thing: SkyPlace) -> _Between:
    model, observer, side = mounted.model, mounted.observer, mounted.side
    seen = seen_vectors(
        np.concatenate([star.hour_angle_h, thing.hour_angle_h]),
        np.concatenate([star.declination_deg, thing.declination_deg]),
        observer,
    )
    h, d, ok = shaft_angles(model, model.values, seen, side, observer)
    # By way of the weights hanging: the tube's end of the axis stands 6 h off (`rig.kinematics`).
    hangs_h = wrap_h(h - 6.0 * side)
    turn = np.stack([(hangs_h[-1] - hangs_h[:-1]) * 15.0, d[-1] - d[:-1]], axis=-1)
    return _Between(seen, (h, d), turn, ok[:-1] & ok[-1])


def _model_part(mounted: Mounted, seen: Floats) -> Floats:
    """Covariance (n, 2, 2) of the turns that the model's own figures leave open.

    `seen` (n + 1, 3): the stars and, last, the object.
    """
    model, observer, side = mounted.model, mounted.observer, mounted.side
    base: list[Floats] = []

    def turns(values: Floats) -> Floats:
        h, d, _ = shaft_angles(model, each_of(values, 1), seen, side, observer)
        hour = h[:, -1:] - h[:, :-1]
        if not base:
            base.append(hour[:1])
        return np.stack([wrap_h(hour - base[0]) * 15.0, d[:, -1:] - d[:, :-1]], axis=-1)

    return propagated(model, turns)


# The place itself, and a little ahead and back by either shaft.
_ASIDE_DEG = (
    0.5 * _STEP_DEG * np.array([[0.0, 0.0], [1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
)


def _on_sky(mounted: Mounted, hour_h: Floats, counted_deg: Floats) -> Floats:
    """How far the tube goes (n, 2, 2): degrees east and north for a degree of either shaft."""
    looks = _looks(mounted, hour_h + _ASIDE_DEG[:, :1] / 15.0, counted_deg + _ASIDE_DEG[:, 1:])
    moves = (looks[1::2] - looks[2::2]) / np.radians(_STEP_DEG)
    ways = np.stack(sky_axes(looks[0], mounted.observer.latitude_deg))
    # Rows: east, north; columns: hour, declination.
    along = np.sum(moves * ways[:, np.newaxis], axis=-1)
    return np.moveaxis(along, -1, 0)


def _looks(mounted: Mounted, hour_h: Floats, counted_deg: Floats) -> Floats:
    """Where the tube looks, local vectors (..., 3), for the angles of both shafts."""
    model, observer = mounted.model, mounted.observer
    lean = model.lean_arcmin if observer.north else -model.lean_arcmin
    h, d = pointed_angles(hour_h, counted_deg, mounted.side, model.cone_arcmin, lean)
    return seen_from_mount_angles(h, d, model.high_arcmin, model.east_arcmin, observer, model.pole)


def sky_axes(seen: Floats, latitude_deg: float) -> tuple[Floats, Floats]:
    """Unit vectors (..., 3) to the east and the north of the sky at directions as seen."""
    phi = np.radians(latitude_deg)
    pole = np.array([0.0, np.cos(phi), np.sin(phi)])
    east = cross(pole, seen)
    east = east / np.maximum(np.linalg.norm(east, axis=-1, keepdims=True), 1e-12)
    return east, cross(seen, east)
