"""How far is the axis off, by dots that tell the attitude and arcs that go round the axis?

While the shutter is open the camera first stands still, then the hour axis is turned by 20° and
more. Every star's arc keeps its angle from the axis, so the axis' place in the camera is the
direction about which all arcs scatter least: the eigenvector of the smallest eigenvalue of their
scatter matrix (as in K. V. Mardia 1972, Statistics of Directional Data, for a small circle; from
memory). The dots tell where the camera looked, and so where that is in the sky.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.frames.solve import FramesSolution
from axletree.pole.long_exposure.arcs import dots_and_arcs
from axletree.pole.photographs.detection import StarImages
from axletree.pole.photographs.lens import Lens, places, rays
from axletree.pole.photographs.looking import about_the_pole, search
from axletree.pole.photographs.matching import Solved
from axletree.pole.photographs.run import Recognised
from axletree.pole.photographs.shot import Shot
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.arrays import Floats
from axletree.sky.directions import axis_error_arcmin, polar_axis
from axletree.sky.observer import Observer

LEAST_ARCS = 6
LEAST_TURN_DEG = 5.0
FARTHEST_DEG = 15.0
_CLEAN = 5.0  # arcs that scatter so many times more than the usual one are of something else


@dataclass(frozen=True)
class LongExposure:
    """What one exposure says: the estimate, the picture's attitude and lens, how many arcs told
    it, how far the axis was turned, and the arcs' scatter about their circles in pixels."""

    estimate: AxisEstimate
    solved: Solved
    dots: StarImages
    arcs: int
    turned_deg: float
    scatter_px: float
    recognised: Recognised

    @property
    def as_frames(self) -> FramesSolution:
        """The same in the form that several pictures have."""
        sight = self.solved.attitude[2]
        return FramesSolution(
            estimate=self.estimate,
            turned_h=np.array([self.turned_deg / 15.0]),
            misfit_arcsec=np.zeros((1, 3))
            + self.scatter_px / self.solved.lens.focal_px * 206264.8 / math.sqrt(2.0),
            altitude_deg=np.degrees(np.arcsin(sight[2:3])),
        )


def axis_from_long_exposure(
    shot: Shot, observer: Observer, pole: Pole = "refracted"
) -> LongExposure:
    """The axis error by one exposure; `shot.middle`: the middle of its still part.

    Refuses one whose dots aren't recognised, without arcs, or turned by too little.
    """
    found = dots_and_arcs(shot.grey)
    (solved,), flipped = search([shot], [found.dots], observer, about_the_pole(observer))
    assert solved is not None  # `search` refuses otherwise
    arcs = [
        (rays(solved.lens, found.arcs_px[k]), found.light[k], found.dots.places[k])
        for k in solved.picture_stars
        if len(found.arcs_px[k])
    ]
    if flipped or len(arcs) < LEAST_ARCS:
        raise AxletreeError(
            f"{shot.name}: {len(arcs)} arcs from recognised stars, and {LEAST_ARCS} are needed; "
            "after ten seconds or more at rest turn the hour axis by 20° to 40° in one go"
        )
    each = np.array([_scatter(seen, light) for seen, light, _ in arcs])
    weights = np.array([float(np.sum(light)) for _, light, _ in arcs])
    kept = np.ones(len(arcs), dtype=bool)
    for _ in range(3):
        axis = _least(each[kept].sum(axis=0))
        off = np.sqrt(np.einsum("i,nij,j->n", axis, each, axis) / weights)
        kept = off < _CLEAN * np.median(off[kept])
    without = np.array([_least(each[kept].sum(axis=0) - one) for one in each[kept]])
    toward = solved.attitude.T @ axis
    altitude = pole_altitude_deg(observer, pole)
    ideal = polar_axis(observer.latitude_deg, pole_altitude_deg=altitude)
    sign = 1.0 if float(toward @ ideal) > 0.0 else -1.0
    values = _error(sign * axis, solved, observer, altitude)
    if math.hypot(*values) > 60.0 * FARTHEST_DEG:
        raise AxletreeError(
            f"{shot.name}: the arcs go round a point {math.hypot(*values) / 60.0:.0f}° from the "
            "pole: was the declination axis or the camera turned too?"
        )
    turned = float(
        np.median([_turned(sign * axis, solved.lens, seen, dot) for seen, _, dot in arcs])
    )
    if turned < LEAST_TURN_DEG:
        raise AxletreeError(
            f"{shot.name}: the hour axis was turned by {turned:.0f}° while the shutter was open; "
            "turn it by 20° to 40°"
        )
    return LongExposure(
        estimate=AxisEstimate(*values, _information(without, solved, observer, altitude)),
        solved=solved,
        dots=found.dots,
        arcs=int(kept.sum()),
        turned_deg=turned,
        scatter_px=float(np.median(off[kept])) * solved.lens.focal_px,
        recognised=_recognised(shot, solved, found.dots),
    )


def _recognised(shot: Shot, solved: Solved, dots: StarImages) -> Recognised:
    stars = solved.listed.take(solved.listed_stars)
    places_px = dots.places[solved.picture_stars]
    misfit = places_px - places(solved.lens, stars.seen @ solved.attitude.T)
    return Recognised(
        shot.name, 0, shot.middle, solved.attitude, stars, places_px, misfit,
        solved.log10_chance, solved.of_brightest,
    )  # fmt: skip


def _scatter(seen: Floats, light: Floats) -> Floats:
    """Scatter matrix (3, 3) of directions about their own mean, weighted by light."""
    weight = np.clip(light, 0.0, None)[:, None]
    middle = (weight * seen).sum(axis=0) / max(float(weight.sum()), 1e-9)
    away = seen - middle
    return np.asarray((weight * away).T @ away)


def _least(scatter: Floats) -> Floats:
    return np.asarray(np.linalg.eigh(scatter)[1][:, 0])


def _error(
    axis: Floats, solved: Solved, observer: Observer, altitude_deg: float
) -> tuple[float, float]:
    high, east = axis_error_arcmin(
        solved.attitude.T @ axis, observer.latitude_deg, pole_altitude_deg=altitude_deg
    )
    return float(high), float(east)


def _information(
    without: Floats, solved: Solved, observer: Observer, altitude_deg: float
) -> Floats:
    """By leaving out one arc after the other (B. Efron 1982, The Jackknife; from memory), with
    what the attitude itself leaves open."""
    n = len(without)
    axis = without * np.sign(without @ without[0])[:, None]
    axis = axis * (1.0 if float((solved.attitude.T @ axis[0])[2]) > 0.0 else -1.0)
    each = np.array([_error(a, solved, observer, altitude_deg) for a in axis])
    away = each - each.mean(axis=0)
    spread = away.T @ away * (n - 1) / n
    stars = max(len(solved.picture_stars) - 3, 1)
    own = (solved.rms_px / solved.lens.focal_px * 10800.0 / math.pi) ** 2 / stars
    return np.asarray(np.linalg.inv(spread + own * np.eye(2)), dtype=np.float64)


def _turned(axis: Floats, lens: Lens, seen: Floats, dot: Floats) -> float:
    """Degrees about the axis from a dot to the far end of its arc."""
    start = rays(lens, dot[None])[0]
    flat = start - (start @ axis) * axis
    across = np.cross(axis, flat)
    angle = np.degrees(np.arctan2(seen @ across, seen @ flat))
    return float(np.quantile(np.abs(angle), 0.99))
