"""How far does a moon, or its shadow, stand from the edge of its planet's disc?

Two lines of sight: the Earth's, along which moons pass before and behind the disc, and the
Sun's, along which they cast shadows and lose their light. The planet is a spheroid; a shadow's
edge is where half of the Sun's face is hidden (bending of light in the planet's air left out).
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Ints, Mask
from axletree.sky.moons.sight import LIGHT_KM_PER_S, Sight
from axletree.sky.moons.systems import MoonSystem
from axletree.sky.positions.poles import POLAR_RADIUS_KM, RADIUS_KM, north_pole


@dataclass(frozen=True)
class Before:
    """Moons before their planet along a line of sight; km, arrays (n,), vectors (n, 3).

    `x` along the planet's equator to the right of one who looks with the planet's north up (to
    the west on the Earth's sky), `y` to its north, both where the line meets the plane of the
    planet's disc; `z` toward the eye (or the Sun). Axes of x, y and z in the ICRS; `tilt_rad` is
    the eye's latitude over the planet's equator. `place` is what x, y and z were made of.
    """

    x: Floats
    y: Floats
    z: Floats
    place: Floats
    x_axis: Floats
    y_axis: Floats
    z_axis: Floats
    tilt_rad: Floats


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray(np.einsum("ij,ij->i", a, b))


def _unit(a: Floats) -> tuple[Floats, Floats]:
    length = np.sqrt(_dot(a, a))
    return a / length[:, np.newaxis], length


def before_disc(system: MoonSystem, moon: Ints, from_sun: Mask, seen: Sight) -> Before:
    """Where moons stand along the Earth's line, or (`from_sun`) the Sun's; all (n,).

    What is seen at one moment left the moon, the shadow and the planet at different ones: the
    light of a moon on the far side is under way longer; an eclipse shows where the planet stood
    when the light that is missing passed it; a shadow on the planet shows where the moon stood
    when the light missing there passed it.
    """
    to_eye, far = _unit(seen.to_observer_km)
    to_sun, sun_far = _unit(seen.to_sun_km)
    place, speed = system.state(moon, seen.days)
    height = _dot(place, to_eye)
    z_sun = _dot(place, to_sun)
    # Seconds after the planet's own moment: of the moon, and of the moon before the planet.
    own = height / LIGHT_KM_PER_S
    shadow = from_sun & (z_sun > 0.0)
    moon_after = np.where(shadow, -z_sun / LIGHT_KM_PER_S, own)
    planet_moved = np.where(from_sun, -z_sun / LIGHT_KM_PER_S, own)
    q = place + speed * moon_after[:, np.newaxis]
    q = q + seen.velocity_km_s * planet_moved[:, np.newaxis]
    u = np.where(from_sun[:, np.newaxis], to_sun, to_eye)
    D = np.where(from_sun, sun_far, far)
    pole = north_pole(system.planet, seen.days)
    sine = _dot(pole, u)
    y_axis, _ = _unit(_across(pole, u))
    x_axis = np.cross(y_axis, u)
    z = _dot(q, u)
    widen = D / (D - z)
    x, y = _dot(q, x_axis) * widen, _dot(q, y_axis) * widen
    return Before(x, y, z, q, x_axis, y_axis, u, np.arcsin(sine))


def from_edge_km(planet: str, x: Floats, y: Floats, tilt_rad: Floats) -> Floats:
    """Distance from the edge of the planet's disc, km, positive outside; (n,).

    To first order from the ellipse that a spheroid shows: right at the edge, within 1 % of the
    distance a moon's radius from it.
    """
    a, b = RADIUS_KM[planet], POLAR_RADIUS_KM[planet]
    squeeze = 1.0 / (np.sin(tilt_rad) ** 2 + (b / a) ** 2 * np.cos(tilt_rad) ** 2)
    size = np.sqrt(x * x + y * y * squeeze)
    size = np.maximum(size, 1.0)
    slope = np.sqrt(x * x + (y * squeeze) ** 2) / size
    return np.asarray((size - a) / slope)


def edge_distance_km(
    system: MoonSystem, moon: Ints, from_sun: Mask, seen: Sight, inward: Floats
) -> Floats:
    """Distance from the edge of what can be seen, km, positive outside; (n,).

    Of the point of the moon (or its shadow) that lies `inward` moon radii nearer to the middle
    of the disc than its own middle: 1 the first edge to come, -1 the last. On the near side of
    the Sun's line, the shadow's: negative only where the spot is lit from there *and* turned
    to the Earth.
    """
    line = before_disc(system, moon, from_sun, seen)
    across = np.maximum(np.hypot(line.x, line.y), 1.0)
    keep = 1.0 - inward * system.radius_km[moon] / across
    x, y = line.x * keep, line.y * keep
    outside = from_edge_km(system.planet, x, y, line.tilt_rad)
    spot = from_sun & (line.z > 0.0) & (outside < 0.0)
    if spot.any():
        k = np.flatnonzero(spot)
        _, normal = _ground(system.planet, x[k], y[k], line, k)
        to_eye, _ = _unit(seen.to_observer_km[k])
        outside[k] = np.maximum(outside[k], -RADIUS_KM[system.planet] * _dot(normal, to_eye))
    return outside


def shadow_on_disc_km(system: MoonSystem, moon: Ints, seen: Sight) -> tuple[Floats, Floats, Floats]:
    """Where the middle of each moon's shadow is seen on the planet's disc, km; (n,) each.

    West and north on the disc's own axes as in `Before`, and the cosine of the angle at which
    the ground there is looked upon (0 at the edge of the disc). nan where it doesn't fall on the
    planet or on ground that is turned away.
    """
    every = np.ones(len(moon), dtype=bool)
    sun = before_disc(system, moon, every, seen)
    hits = from_edge_km(system.planet, sun.x, sun.y, sun.tilt_rad) < 0.0
    west, north, facing = (np.full(len(moon), np.nan) for _ in range(3))
    k = np.flatnonzero(hits & (sun.z > 0.0))
    place, normal = _ground(system.planet, sun.x[k], sun.y[k], sun, k)
    to_eye, _ = _unit(seen.to_observer_km[k])
    cosine = _dot(normal, to_eye)
    y_axis, _ = _unit(_across(north_pole(system.planet, seen.days[k]), to_eye))
    shown = cosine > 0.0
    west[k] = np.where(shown, _dot(place, np.cross(y_axis, to_eye)), np.nan)
    north[k] = np.where(shown, _dot(place, y_axis), np.nan)
    facing[k] = np.where(shown, cosine, np.nan)
    return west, north, facing


def _across(v: Floats, u: Floats) -> Floats:
    """The part of vectors (n, 3) across unit vectors u."""
    return np.asarray(v - _dot(v, u)[:, np.newaxis] * u)


def _ground(planet: str, x: Floats, y: Floats, line: Before, k: Ints) -> tuple[Floats, Floats]:
    """Where rays from the Sun through x, y first meet the planet: places from its centre (km)
    and unit vectors straight up from the ground there, ICRS (n, 3). `k` are their rows in `line`.
    """
    a, b = RADIUS_KM[planet], POLAR_RADIUS_KM[planet]
    more = (a / b) ** 2 - 1.0
    s, c = np.sin(line.tilt_rad[k]), np.cos(line.tilt_rad[k])
    # The spheroid x² + y² + z² + more (y c + z s)² = a², solved for its point nearest the Sun.
    A = 1.0 + more * s * s
    half = more * s * c * y
    rest = x * x + (1.0 + more * c * c) * y * y - a * a
    z = (-half + np.sqrt(np.maximum(half * half - A * rest, 0.0))) / A
    lift = more * (y * c + z * s)

    def turned(u: Floats, v: Floats, w: Floats) -> Floats:
        axes = (line.x_axis[k], line.y_axis[k], line.z_axis[k])
        return np.asarray(
            sum(n[:, np.newaxis] * axis for n, axis in zip((u, v, w), axes, strict=True))
        )

    normal, _ = _unit(turned(x, y + lift * c, z + lift * s))
    return turned(x, y, z), normal
