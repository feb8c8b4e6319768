"""Where do a body's parts lie in a field, turned and mirrored as the eye meets it?

Places in units of the body's (equatorial) radius from the middle of its disc, x to the right and
y up, so that the same shape serves at true scale and enlarged. `matrix` (2, 2) is a view's own
(`find.view.SkyTurn.matrix`): from a step (east, north) on the sky to (right, up) at the eye.
"""

from __future__ import annotations

import numpy as np

from axletree.find.at_eyepiece.answer import (
    AtEyepiece,
    EarthShadowOnMoon,
    MoonAtEyepiece,
    MoonBeside,
    PairAtEyepiece,
    PlanetAtEyepiece,
)
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats

_STEPS = 60
# The unlit part of a rounder disc than this isn't drawn: nobody sees it (ours).
_FULL_FROM = 0.985


@dataclass(frozen=True)
class DiscInView:
    """The disc's shapes, arrays (n, 2) of (x, y), and its moons.

    `limb` the edge; `dark` the unlit part's edge, None where hardly any; `rings` edges of Saturn's
    rings from outside in, each beginning at one tip, the half nearer to the eye first;
    `moons` with their places (x, y); `shadows` places and radii across and along.
    """

    radius_arcsec: float
    limb: Floats
    dark: Floats | None
    rings: tuple[Floats, ...]
    moons: tuple[tuple[MoonBeside, tuple[float, float]], ...]
    shadows: tuple[Floats, ...]


def disc_in_view(shown: AtEyepiece, matrix: Floats) -> DiscInView | None:
    """The shapes of Moon or planet; None of a pair."""
    if isinstance(shown, PairAtEyepiece):
        return None
    flat = (
        1.0 if isinstance(shown, MoonAtEyepiece)
        else shown.polar_diameter_arcsec / shown.diameter_arcsec
    )  # fmt: skip
    body = _frame(matrix, shown.axis_deg)
    t = np.linspace(0.0, 2.0 * np.pi, 2 * _STEPS + 1)
    limb = _placed(body, np.cos(t), flat * np.sin(t))
    moons: tuple[MoonBeside, ...] = ()
    rings: tuple[Floats, ...] = ()
    if not isinstance(shown, MoonAtEyepiece):
        moons = shown.moons
        if shown.rings is not None:
            # The north pole leans toward the eye where the north face shows: then the southern
            # half of the rings is the nearer one.
            near = -np.sign(shown.rings.opening_deg) * shown.rings.short_over_long
            rings = tuple(
                _placed(body, np.cos(t), near * np.sin(t)) * (wide / shown.diameter_arcsec)
                for wide in (
                    shown.rings.outer_arcsec, shown.rings.gap_arcsec, shown.rings.inner_arcsec
                )
            )  # fmt: skip
    radius = shown.diameter_arcsec / 2.0
    return DiscInView(
        radius_arcsec=radius,
        limb=limb,
        dark=_unlit(shown, matrix),
        rings=rings,
        moons=tuple((moon, _moon_place(matrix, moon, radius)) for moon in moons),
        shadows=tuple(_shadow(body, moon, radius) for moon in moons if moon.shadow is not None),
    )


def feature_places(shown: MoonAtEyepiece, matrix: Floats) -> tuple[tuple[float, float], ...]:
    """Where the Moon's best-lit features lie on the disc, (x, y) in its radii, in their order."""
    body = _frame(matrix, shown.axis_deg)
    right = np.array([lit.right_radii for lit in shown.features])
    up = np.array([lit.up_radii for lit in shown.features])
    return tuple((float(x), float(y)) for x, y in _placed(body, right, up))


def way_in_view(position_angle_deg: float, matrix: Floats) -> tuple[float, float]:
    """A position angle on the sky as a step of length 1 in the view, (right, up)."""
    p = np.radians(position_angle_deg)
    x, y = matrix @ np.array([np.sin(p), np.cos(p)])
    return float(x), float(y)


def _frame(matrix: Floats, axis_deg: float) -> Floats:
    """(2, 2): from (sky's west of a body with its axis up, along the axis) to (right, up)."""
    west = way_in_view(axis_deg - 90.0, matrix)
    return np.array([west, way_in_view(axis_deg, matrix)]).T


def _placed(frame: Floats, west: Floats, north: Floats) -> Floats:
    return np.asarray((frame @ np.stack((west, north))).T)


def _unlit(shown: MoonAtEyepiece | PlanetAtEyepiece, matrix: Floats) -> Floats | None:
    """What lies in the dark: beyond the edge of the light, or in the Earth's umbra."""
    if isinstance(shown, MoonAtEyepiece) and shown.shadow is not None:
        return _in_umbra(shown.shadow, matrix)
    return _dark(matrix, shown.bright_limb_deg, shown.phase_angle_deg, shown.lit_fraction)


def _in_umbra(shadow: EarthShadowOnMoon, matrix: Floats) -> Floats | None:
    """Where disc and umbra overlap, the Moon's edge, then the umbra's; None where they don't."""
    apart, umbra = shadow.apart_radii, shadow.umbra_radii
    if apart >= umbra + 1.0:
        return None
    # Half the angle that the common part takes on either circle, all of it in a total eclipse.
    whole = apart <= umbra - 1.0
    moon_half, umbra_half = np.pi, 0.0
    if not whole:
        moon_half = float(np.arccos((1.0 + apart**2 - umbra**2) / (2.0 * apart)))
        umbra_half = float(np.arccos((apart**2 + umbra**2 - 1.0) / (2.0 * apart * umbra)))
    t = np.linspace(-moon_half, moon_half, _STEPS)
    s = np.linspace(umbra_half, -umbra_half, _STEPS)
    edge = (apart - umbra * np.cos(s), umbra * np.sin(s))
    if whole:
        edge = (np.full(_STEPS, np.cos(moon_half)), np.zeros(_STEPS))
    toward = np.concatenate((np.cos(t), edge[0]))
    across = np.concatenate((np.sin(t), edge[1]))
    return _placed(_frame(matrix, shadow.toward_deg), across, toward)


def _dark(matrix: Floats, limb_deg: float, phase_deg: float, lit: float) -> Floats | None:
    """The unlit part: its half of the limb, then back along the terminator, half an ellipse."""
    if lit > _FULL_FROM:
        return None
    t = np.linspace(-np.pi / 2.0, np.pi / 2.0, _STEPS)
    toward = np.concatenate((-np.cos(t), -np.cos(np.radians(phase_deg)) * np.cos(t[::-1])))
    across = np.concatenate((np.sin(t), np.sin(t[::-1])))
    bright = _frame(matrix, limb_deg)
    return _placed(bright, across, toward)


def _moon_place(matrix: Floats, moon: MoonBeside, radius_arcsec: float) -> tuple[float, float]:
    x, y = way_in_view(moon.position_angle_deg, matrix)
    apart = moon.apart_arcsec / radius_arcsec
    return x * apart, y * apart


def _shadow(body: Floats, moon: MoonBeside, radius_arcsec: float) -> Floats:
    """The shadow's edge: round, squeezed toward the edge of the disc."""
    assert moon.shadow is not None
    west, north = moon.shadow.west_radii, moon.shadow.north_radii
    size = moon.size_arcsec / 2.0 / radius_arcsec
    t = np.linspace(0.0, 2.0 * np.pi, 25)
    out = np.hypot(west, north)
    a, b = (west / out, north / out) if out > 1e-6 else (1.0, 0.0)
    along, across = size * moon.shadow.squeeze * np.cos(t), size * np.sin(t)
    return _placed(body, west + along * a - across * b, north + along * b + across * a)
