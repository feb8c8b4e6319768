"""How far is the axis off, by dots that tell the attitude and arcs that go round the axis?

While the shutter is open the camera first stands still, then the hour axis is turned by 20° and
more. Every star's arc keeps its angle from the axis, so where arcs are bright enough to be seen the
axis' place in the camera is the direction about which they scatter least: the eigenvector of the
smallest eigenvalue of their scatter matrix (as in K. V. Mardia 1972, Statistics of Directional
Data, for a small circle; from memory). From there, or from the pole, the light along all arcs leads
to it. The dots tell where the camera looked, and so where that is in the sky.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.frames.solve import FramesSolution
from axletree.pole.long_exposure.along import AlongArcs, axis_along_arcs
from axletree.pole.long_exposure.arcs import DotsAndArcs, dots_and_arcs
from axletree.pole.photographs.detection import StarImages
from axletree.pole.photographs.lens import places, rays
from axletree.pole.photographs.looking import about_the_pole, search
from axletree.pole.photographs.matching import Solved
from axletree.pole.photographs.run import Recognised
from axletree.pole.photographs.shot import Shot
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.arrays import Floats
from axletree.sky.directions import axis_error_arcmin, polar_axis
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# Arcs bright enough to be seen one by one, from which the search starts.
LEAST_ARCS = 6
NEAR_BRIGHT_DEG = 0.5
# Otherwise it starts from the pole: a mount that was set up roughly is no farther off.
WITHIN_DEG = 2.5
# From the middle of the rest to the end of the turn, half of ten seconds and more and five to ten
# (common practice, no source): the picture doesn't tell it.
TURNING_S, TURNING_SIGMA_S = 14.0, 5.0
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
    altitude = pole_altitude_deg(observer, pole)
    ideal = polar_axis(observer.latitude_deg, pole_altitude_deg=altitude)
    along = _along(found, solved, solved.attitude @ ideal)
    if flipped or not along.seen:
        raise AxletreeError(
            f"{shot.name}: {along.arcs} of {along.stars} recognised stars seem to have drawn an "
            "arc, as chance alone makes them; after ten seconds or more at rest turn the hour axis "
            "by 20° to 40° in one go"
        )
    values = _error(along.axis, solved, observer, altitude)
    if math.hypot(*values) > 60.0 * FARTHEST_DEG:
        raise AxletreeError(
            f"{shot.name}: the arcs go round a point {math.hypot(*values) / 60.0:.0f}° from the "
            "pole: was the declination axis or the camera turned too?"
        )
    turned = abs(along.turned_deg)
    if turned < LEAST_TURN_DEG:
        raise AxletreeError(
            f"{shot.name}: the hour axis was turned by {turned:.0f}° while the shutter was open; "
            "turn it by 20° to 40°"
        )
    # Meanwhile the sky turned too, about the pole: the arcs go round a point between the two.
    sense = -1.0 if observer.north else 1.0
    part = sense * SIDEREAL_RATE_ARCSEC_PER_S / 3600.0 / along.turned_deg
    own = np.array(values)
    high, east = own * (1.0 + part * TURNING_S)
    spread = _spread(along.without, solved, observer, altitude)
    spread = spread + np.outer(own, own) * (part * TURNING_SIGMA_S) ** 2
    away = (along.without - along.axis) * solved.lens.focal_px
    return LongExposure(
        estimate=AxisEstimate(float(high), float(east), np.asarray(np.linalg.inv(spread))),
        solved=solved,
        dots=found.dots,
        arcs=along.arcs,
        turned_deg=turned,
        scatter_px=float(np.sqrt(np.mean(np.sum(away**2, axis=-1)) * len(away))),
        recognised=_recognised(shot, solved, found.dots),
    )


def _along(found: DotsAndArcs, solved: Solved, toward_pole: Floats) -> AlongArcs:
    """By the light along all arcs, from the pole and from where bright ones say that it is."""
    stars, dots = solved.picture_stars, found.dots
    starts = [(toward_pole, WITHIN_DEG)]
    bright = _by_bright_arcs(found, solved)
    if bright is not None:
        starts.insert(0, (bright if bright @ toward_pole > 0.0 else -bright, NEAR_BRIGHT_DEG))
    tried = []
    for start, within_deg in starts:
        tried.append(
            axis_along_arcs(
                found.smooth, dots.places[stars], dots.light[stars], solved.lens, start, within_deg
            )
        )
        if tried[-1].seen:
            break
    return max(tried, key=lambda one: one.arcs)


def _by_bright_arcs(found: DotsAndArcs, solved: Solved) -> Floats | None:
    arcs = [
        (rays(solved.lens, found.arcs_px[k]), found.light[k])
        for k in solved.picture_stars
        if len(found.arcs_px[k])
    ]
    if len(arcs) < LEAST_ARCS:
        return None
    each = np.array([_scatter(seen, light) for seen, light in arcs])
    weights = np.array([float(np.sum(light)) for _, light in arcs])
    kept = np.ones(len(arcs), dtype=bool)
    axis = _least(each.sum(axis=0))
    for _ in range(3):
        axis = _least(each[kept].sum(axis=0))
        off = np.sqrt(np.einsum("i,nij,j->n", axis, each, axis) / weights)
        kept = off < _CLEAN * np.median(off[kept])
    return axis


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


def _spread(without: Floats, solved: Solved, observer: Observer, altitude_deg: float) -> Floats:
    """Covariance by leaving out one arc after the other (B. Efron 1982, The Jackknife; from
    memory), with what the attitude itself leaves open."""
    n = len(without)
    each = np.array([_error(a, solved, observer, altitude_deg) for a in without])
    away = each - each.mean(axis=0)
    spread = away.T @ away * (n - 1) / n
    stars = max(len(solved.picture_stars) - 3, 1)
    own = (solved.rms_px / solved.lens.focal_px * 10800.0 / math.pi) ** 2 / stars
    return np.asarray(spread + own * np.eye(2), dtype=np.float64)
