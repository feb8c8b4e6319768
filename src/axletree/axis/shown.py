"""What will the person's circles show on an object, and where does the tube point at a reading?

Exact turns of both shafts, for the model's own figures and for those that it holds possible.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.circles import circle_readings, folded_deg, pointed_angles
from axletree.axis.frame import mount_angles, seen_from_mount_angles, seen_vectors, sky_angles
from axletree.axis.model import PointingModel
from axletree.axis.spread import each_of, propagated
from axletree.axis.unknowns import INDEX_DECLINATION, INDEX_HOUR
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import cross, wrap_24h, wrap_h
from axletree.sky.observer import Observer

_ARCMIN = math.pi / 10800.0
_INSIDE_DEG = 1e-9  # of the edge of what the tube reaches


@dataclass(frozen=True)
class OutOfReach:
    """No angles of the shafts point the tube there: it stands out from the square too far.

    Degrees from the nearer end of the polar axis: of the object, and the least that the tube can.
    """

    from_axis_deg: float
    least_from_axis_deg: float


@dataclass(frozen=True)
class ShownCircles:
    """What the circles show when the tube is on each of some objects; arrays of one shape (...).

    `hour_circle_h` (-12, 12] of a circle marked in hour angle, `right_ascension_h` [0, 24) of one
    marked in right ascension (None where no sidereal time was given); `declination_circle_deg`
    from -90 to 90 both ways, north positive, `past_ninety` where the shaft has turned beyond that
    mark. `covariance_arcmin2` (..., 2, 2): of the hour and the declination circle, angles of the
    circles, without the error of a person's reading. Where the tube can't reach the object
    (`reached` false) the figures are nan.
    """

    hour_circle_h: Floats
    right_ascension_h: Floats | None
    declination_circle_deg: Floats
    past_ninety: Mask
    covariance_arcmin2: Floats
    reached: Mask
    from_axis_deg: Floats
    least_from_axis_deg: Floats

    @property
    def hour_sigma_arcmin(self) -> Floats:
        """One standard deviation of the hour circle, arcminutes of the circle (15 to a minute)."""
        return np.asarray(np.sqrt(self.covariance_arcmin2[..., 0, 0]))

    @property
    def declination_sigma_arcmin(self) -> Floats:
        """One standard deviation of the declination circle."""
        return np.asarray(np.sqrt(self.covariance_arcmin2[..., 1, 1]))

    @property
    def refusals(self) -> tuple[OutOfReach | None, ...]:
        """Of each object, flat, why it gets no figures; None where it gets them."""
        rows = zip(
            self.reached.ravel(), self.from_axis_deg.ravel(), self.least_from_axis_deg.ravel(),
            strict=True,
        )  # fmt: skip
        return tuple(None if ok else OutOfReach(float(a), float(b)) for ok, a, b in rows)


@dataclass(frozen=True)
class PointedAt:
    """Where the tube points; arrays of one shape (...).

    Hour angle (-12, 12] h and declination, degrees, apparent of date without air; right ascension
    [0, 24) h where sidereal time was given. `covariance_arcmin2` (..., 2, 2): on the sky as seen,
    towards the west and the north of the circles, arcminutes of a great circle.
    """

    hour_angle_h: Floats
    declination_deg: Floats
    right_ascension_h: Floats | None
    covariance_arcmin2: Floats


def instrument_angles(
    model: PointingModel, hour_angle_h: ArrayLike, declination_deg: ArrayLike, side: ArrayLike,
    observer: Observer,
) -> tuple[Floats, Floats]:  # fmt: skip
    """Hour angle (h) and declination (degrees) at which a perfect mount stands as this one does.

    The object's, apparent of date without air, become those of the shafts: axis, cone, lean and
    air are in them, the circles' index errors are not. `side`: +1 east, -1 west. nan out of reach.
    """
    seen = seen_vectors(hour_angle_h, declination_deg, observer)
    h, d, reached = shaft_angles(model, model.values, seen, side, observer)
    return np.where(reached, h, np.nan), np.where(reached, d, np.nan)


def circles_shown(
    model: PointingModel, hour_angle_h: ArrayLike, declination_deg: ArrayLike, side: ArrayLike,
    observer: Observer, sidereal_h: ArrayLike | None = None,
) -> ShownCircles:  # fmt: skip
    """What the person's circles show, with its error, when the tube is on the objects.

    Hour angle and declination are apparent of date, without air, which the observer's adds;
    `side`: +1 tube side east, -1 west; `sidereal_h`: local apparent sidereal time, for circles
    marked in right ascension. Everything broadcasts.
    """
    seen = seen_vectors(hour_angle_h, declination_deg, observer)
    return circles_shown_on(model, seen, side, observer, sidereal_h)


def circles_shown_on(
    model: PointingModel, seen: ArrayLike, side: ArrayLike, observer: Observer,
    sidereal_h: ArrayLike | None = None,
) -> ShownCircles:  # fmt: skip
    """The same for local vectors (..., 3) of where the objects are seen through the air."""
    sign = np.asarray(side, dtype=np.float64)
    sky = np.asarray(seen, dtype=np.float64)
    hour, counted, reached = shaft_angles(model, model.values, sky, sign, observer)

    def circles(values: Floats) -> Floats:
        each = each_of(values, hour.ndim)
        h, d, _ = shaft_angles(model, each, sky, sign, observer)
        off_h = wrap_h(h - hour) * 900.0 + each[INDEX_HOUR]
        off_d = (d - counted) * 60.0 + sign * each[INDEX_DECLINATION]
        return np.stack(np.broadcast_arrays(off_h, off_d), axis=-1)

    covariance = propagated(model, circles)
    other = 0.0 if not model.hour_set_on else np.where(sign == model.hour_set_on, 0.0, 12.0)
    shown_h = wrap_h(hour + model.index_hour_arcmin / 900.0 + other)
    shown_d = counted + sign * model.index_declination_arcmin / 60.0
    shown_h, shown_d, reached = np.broadcast_arrays(shown_h, shown_d, reached)
    from_axis, least = _reach(model, sky, sign, observer)
    ra = None if sidereal_h is None else wrap_24h(np.asarray(sidereal_h) - shown_h)
    return ShownCircles(
        hour_circle_h=np.where(reached, shown_h, np.nan),
        right_ascension_h=None if ra is None else np.where(reached, ra, np.nan),
        declination_circle_deg=np.where(reached, folded_deg(shown_d), np.nan),
        past_ninety=reached & (np.abs(shown_d) > 90.0),
        covariance_arcmin2=np.where(reached[..., None, None], covariance, np.nan),
        reached=np.asarray(reached),
        from_axis_deg=np.broadcast_to(from_axis, reached.shape),
        least_from_axis_deg=np.broadcast_to(least, reached.shape),
    )


def pointed_at(
    model: PointingModel, circles: tuple[ArrayLike, ArrayLike], side: ArrayLike,
    observer: Observer, *, sidereal_h: ArrayLike | None = None,
    reading_sigma_arcmin: tuple[float, float] = (0.0, 0.0),
) -> PointedAt:  # fmt: skip
    """Where the tube points when its circles show this, with its error.

    `circles`: hour circle (h) in hour angle, declination circle (degrees, counted on past 90);
    of an hour circle marked in right ascension give sidereal time minus what it shows.
    `reading_sigma_arcmin`: of a reading of each circle, arcminutes of the circle.
    """
    sign = np.asarray(side, dtype=np.float64)
    other = 0.0 if not model.hour_set_on else np.where(sign == model.hour_set_on, 0.0, 12.0)
    shown_h = np.asarray(circles[0], dtype=np.float64) - other
    shown_d = np.asarray(circles[1], dtype=np.float64)

    def seen_of(values: Floats, off_arcmin: tuple[float, float] = (0.0, 0.0)) -> Floats:
        h, d = pointed_angles(
            shown_h + off_arcmin[0] / 900.0, shown_d + off_arcmin[1] / 60.0, sign, values[4],
            _to_north(values[5], observer), values[INDEX_HOUR], values[INDEX_DECLINATION],
        )  # fmt: skip
        return seen_from_mount_angles(h, d, values[0], values[1], observer, model.pole)

    there = seen_of(model.values)
    west, north = _tangents(there, observer)

    def on_sky(seen: Floats) -> Floats:
        return np.stack([np.sum(seen * west, -1), np.sum(seen * north, -1)], axis=-1) / _ARCMIN

    covariance = propagated(model, lambda v: on_sky(seen_of(each_of(v, there.ndim - 1))))
    for k, sigma in enumerate(reading_sigma_arcmin):
        ahead, back = ((0.0, half) if k else (half, 0.0) for half in (0.5, -0.5))
        slope = on_sky(seen_of(model.values, ahead)) - on_sky(seen_of(model.values, back))
        covariance = covariance + sigma**2 * slope[..., :, None] * slope[..., None, :]
    H, d = sky_angles(there, observer)
    ra = None if sidereal_h is None else wrap_24h(np.asarray(sidereal_h) - H)
    return PointedAt(H, d, ra, covariance)


def _to_north(lean_arcmin: float | Floats, observer: Observer) -> float | Floats:
    return lean_arcmin if observer.north else -lean_arcmin


def shaft_angles(
    model: PointingModel, values: Floats, seen: Floats, side: ArrayLike, observer: Observer
) -> tuple[Floats, Floats, Mask]:
    """Both shafts as hour angle (h) and declination (degrees), and whether the object is in reach.

    Of six `values` in place of the model's own; `seen` (..., 3). The nearest where out of reach.
    """
    H, d = mount_angles(seen, values[0], values[1], observer, model.pole)
    lean = _to_north(values[5], observer)
    h, counted = circle_readings(H, d, side, values[4], lean)
    reached = np.isfinite(h)
    if not reached.all():
        c, i = np.asarray(values[4]) / 60.0, np.asarray(lean) / 60.0
        most, least = 90.0 - abs(c - i) - _INSIDE_DEG, abs(c + i) - 90.0 + _INSIDE_DEG
        near_h, near_d = circle_readings(H, np.clip(d, least, most), side, values[4], lean)
        h, counted = np.where(reached, h, near_h), np.where(reached, counted, near_d)
    return h, counted, reached


def _reach(
    model: PointingModel, seen: Floats, side: ArrayLike, observer: Observer
) -> tuple[Floats, Floats]:
    """Degrees from the nearer end of the axis: of the object, and the least that can be reached."""
    _, d = mount_angles(seen, model.high_arcmin, model.east_arcmin, observer, model.pole)
    c, i = model.cone_arcmin / 60.0, float(_to_north(model.lean_arcmin, observer)) / 60.0
    least = np.where(d > 0.0, abs(c - i), abs(c + i))
    return np.broadcast_arrays(90.0 - np.abs(d), least, np.asarray(side))[:2]  # type: ignore[return-value]


def _tangents(seen: Floats, observer: Observer) -> tuple[Floats, Floats]:
    """Unit vectors (..., 3) to the west and the north of the sky at some directions."""
    phi = math.radians(observer.latitude_deg)
    pole = np.array([0.0, math.cos(phi), math.sin(phi)])
    west = cross(seen, pole)
    size = np.linalg.norm(west, axis=-1, keepdims=True)
    west = west / np.where(size > 0.0, size, 1.0)
    return west, cross(west, seen)
