"""How do Moon and planets look in a round view? Ink on paper, as an engraver shades.

The edge is a line of brass, the unlit part is hatched, moons are dots like stars, a moon before
the disc a small ring, a shadow on it a dot. Everything at its place, turned as the eye meets it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.find.at_eyepiece.answer import (
    AtEyepiece,
    BesidePlanet,
    MoonAtEyepiece,
    PairAtEyepiece,
)
from axletree.find.at_eyepiece.in_view import (
    DiscInView,
    disc_in_view,
    feature_places,
    way_in_view,
)
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.tell.shared.sheet import BRASS, FAINT, INK, PAPER, Point, Sheet

# A disc smaller than this on the sheet is drawn a second time, enlarged.
LEAST_RADIUS = 14.0
_LEAST_DOT, _LEAST_DISC = 1.7, 2.2
NUMBERED_FROM = 80.0  # a Moon of this radius has numbers at its features
_BELTS = 0.2  # Jupiter's two broad belts, in its radii from the equator (common practice)
_HATCH = 3.4
_HATCH_DEG = 45.0
_NUMBER = 13.0


@dataclass(frozen=True)
class Round:
    """A round window on the sheet: nothing is drawn outside it."""

    middle: Point
    radius: float


def draw_disc(
    sheet: Sheet, shown: AtEyepiece, matrix: Floats, at: Point, radius: float, window: Round
) -> bool:
    """Draw Moon or planet with its middle at `at`, its equatorial radius `radius` on the sheet.

    `matrix` is the view's; True where there was something to draw (a pair has no disc).
    """
    disc = disc_in_view(shown, matrix)
    if disc is None:
        return False
    pen = _Pen(sheet, at, radius, window)
    half = len(disc.rings[0]) // 2 if disc.rings else 0
    for ring in disc.rings:
        pen.line(ring[half:], INK, 1.1)
    pen.fill(disc.limb, PAPER)
    if disc.dark is not None:
        pen.hatch(disc.dark)
    if radius < _LEAST_DISC:
        sheet.circle(at, _LEAST_DISC, stroke=BRASS, width=1.3, fill=PAPER)
    else:
        pen.line(disc.limb, BRASS, 1.9 if radius > 4.0 else 1.3)
    if disc.dark is not None and radius > 4.0:
        pen.line(disc.dark[len(disc.dark) // 2 :], INK, 1.2)
    if disc.rings:
        outer, inner = disc.rings[0][: half + 1], disc.rings[-1][: half + 1]
        pen.fill(np.concatenate((outer, inner[::-1])), PAPER)
        for ring in disc.rings:
            pen.line(ring[: half + 1], INK, 1.1)
    if not isinstance(shown, MoonAtEyepiece | PairAtEyepiece) and shown.body == "jupiter":
        _belts(pen, disc)
    _moons(pen, disc)
    if isinstance(shown, MoonAtEyepiece):
        _features(pen, shown, matrix)
    return True


@dataclass(frozen=True)
class _Pen:
    """Draws shapes given in the body's radii, x to the right and y up."""

    sheet: Sheet
    at: Point
    radius: float
    window: Round

    def spot(self, x: float, y: float) -> Point:
        return self.at[0] + x * self.radius, self.at[1] - y * self.radius

    def inside(self, spot: Point, margin: float = 0.0) -> bool:
        far = math.dist(spot, self.window.middle)
        return far <= self.window.radius - margin

    def _spots(self, shape: Floats) -> list[Point]:
        return [self.spot(float(x), float(y)) for x, y in shape]

    def line(self, shape: Floats, stroke: str, width: float) -> None:
        """The shape's edge as far as it lies within the window."""
        run: list[Point] = []
        for spot in self._spots(shape):
            if self.inside(spot, 1.0):
                run.append(spot)
                continue
            if len(run) > 1:
                self.sheet.path(run, stroke=stroke, width=width)
            run = []
        if len(run) > 1:
            self.sheet.path(run, stroke=stroke, width=width)

    def fill(self, shape: Floats, colour: str) -> None:
        """The shape's part within the window, filled."""
        points = _within(self._spots(shape), self.window)
        if len(points) > 2:
            self.sheet.path(points, stroke="none", fill=colour, closed=True)

    def hatch(self, shape: Floats) -> None:
        """The shape's part within the window in slanting lines."""
        for a, b in _hatches(_within(self._spots(shape), self.window), _HATCH):
            self.sheet.line(a, b, stroke=FAINT, width=1.0)


def _belts(pen: _Pen, disc: DiscInView) -> None:
    """Jupiter's two broad belts, which show how it lies."""
    if pen.radius < LEAST_RADIUS:
        return
    west, north = disc.limb[0], disc.limb[len(disc.limb) // 4]
    reach = math.sqrt(1.0 - _BELTS**2) * 0.96
    for side in (_BELTS, -_BELTS):
        ends = np.array([side * north - reach * west, side * north + reach * west])
        pen.line(ends, FAINT, 0.08 * pen.radius)


def _moons(pen: _Pen, disc: DiscInView) -> None:
    for shape in disc.shadows:
        spots = [pen.spot(float(x), float(y)) for x, y in shape]
        middle = (sum(x for x, _ in spots) / len(spots), sum(y for _, y in spots) / len(spots))
        size = max(math.dist(middle, spot) for spot in spots)
        if size < _LEAST_DOT:
            pen.sheet.circle(middle, _LEAST_DOT, stroke="none", fill=INK)
        else:
            pen.sheet.path(spots, stroke="none", fill=INK, closed=True)
    for moon, (x, y) in disc.moons:
        spot = pen.spot(x, y)
        if not moon.state.seen or not pen.inside(spot, 2.0):
            continue
        size = moon.size_arcsec / 2.0 / disc.radius_arcsec * pen.radius
        if moon.state is BesidePlanet.BEFORE_DISC:
            pen.sheet.circle(spot, max(size, _LEAST_DOT), stroke=INK, width=0.9, fill=PAPER)
        else:
            pen.sheet.circle(spot, max(size, _LEAST_DOT) + 0.4, stroke=PAPER, width=0.8, fill=INK)


def _features(pen: _Pen, shown: MoonAtEyepiece, matrix: Floats) -> None:
    """A number beside each feature that stands well in the light; the names stand below."""
    if pen.radius < NUMBERED_FROM:
        return
    toward = way_in_view(shown.bright_limb_deg, matrix)
    for n, (x, y) in enumerate(feature_places(shown, matrix), start=1):
        size = shown.features[n - 1].feature.size_km / 1737.4 / 2.0 * pen.radius
        spot, size = pen.spot(x, y), min(max(size, 1.8), 7.0)
        if not pen.inside(spot, 12.0):
            continue
        pen.sheet.circle(spot, size, stroke=INK, width=1.0)
        # Toward the light there is paper to write on.
        away = size + 8.0
        beside = spot[0] + toward[0] * away, spot[1] - toward[1] * away
        at = (beside[0], beside[1] + 0.35 * _NUMBER)
        pen.sheet.text(at, str(n), size=_NUMBER, anchor="middle", weight=600)


def _within(points: Sequence[Point], window: Round) -> list[Point]:
    """A polygon's part within the window, cut side by side (Sutherland and Hodgman 1974)."""
    if all(math.dist(p, window.middle) <= window.radius for p in points):
        return list(points)
    kept = list(points)
    sides = 72
    for k in range(sides):
        a = 2.0 * math.pi * k / sides
        nx, ny = math.cos(a), math.sin(a)
        far = [
            (x - window.middle[0]) * nx + (y - window.middle[1]) * ny - window.radius + 1.0
            for x, y in kept
        ]
        cut: list[Point] = []
        for i, here in enumerate(kept):
            before = kept[i - 1]
            if (far[i] <= 0.0) != (far[i - 1] <= 0.0):
                t = far[i - 1] / (far[i - 1] - far[i])
                cut.append(
                    (before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1]))
                )
            if far[i] <= 0.0:
                cut.append(here)
        kept = cut
        if not kept:
            return []
    return kept


def _hatches(points: Sequence[Point], apart: float) -> list[tuple[Point, Point]]:
    """Slanting lines through a polygon, `apart` from each other, from edge to edge."""
    if len(points) < 3:
        return []
    a = math.radians(_HATCH_DEG)
    along, across = np.array([math.cos(a), -math.sin(a)]), np.array([math.sin(a), math.cos(a)])
    corners = np.array(points)
    u, v = corners @ along, corners @ across
    found = []
    for level in np.arange(np.ceil(v.min() / apart), v.max() / apart) * apart:
        cuts = []
        for i in range(len(points)):
            v0, v1 = v[i - 1] - level, v[i] - level
            if (v0 <= 0.0) != (v1 <= 0.0):
                cuts.append(u[i - 1] + (u[i] - u[i - 1]) * v0 / (v0 - v1))
        cuts.sort()
        for begin, end in zip(cuts[::2], cuts[1::2], strict=False):
            if end - begin > 0.4:
                one, two = (float(x) * along + float(level) * across for x in (begin, end))
                found.append(((float(one[0]), float(one[1])), (float(two[0]), float(two[1]))))
    return found
