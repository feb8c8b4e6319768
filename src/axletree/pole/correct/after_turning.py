"""After the bolts are turned: which way should a star move in the eyepiece, and what drift is left?

Turning the head carries the whole mount along: first about its hinge, then about the base's
vertical. A star that stood in the middle of the field leaves it by a known amount in a known
direction; that is how a person sees at the eyepiece that the bolts did what they should.
"""

from __future__ import annotations

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg, seen_vectors
from axletree.kit.frozen import dataclass
from axletree.pole.correct.bolts import head_turns_deg
from axletree.pole.drift.solve import drift_arcsec
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.arrays import Floats
from axletree.sky.directions import polar_axis, rotate_about
from axletree.sky.observer import Observer

_DEG = np.pi / 180.0


@dataclass(frozen=True)
class Base:
    """Where the mount stands, which pole its axis should meet, and how the base's vertical leans.

    `leans_to_pole_deg`: towards the elevated pole; `leans_east_deg`: to the east (0: level). A lean
    mixes the two bolts.
    """

    observer: Observer
    pole: Pole = "refracted"
    leans_to_pole_deg: float = 0.0
    leans_east_deg: float = 0.0

    @property
    def pole_altitude_deg(self) -> float:
        """Altitude of that pole."""
        return pole_altitude_deg(self.observer, self.pole)


@dataclass(frozen=True)
class StarMove:
    """How a star that stood in the middle moves in the field, great-circle arcminutes on the sky.

    `north_arcmin`, `west_arcmin`: where it stands afterwards, seen from the middle; `by_altitude`
    and `by_azimuth` are the parts (north, west) of the two bolts, altitude first.
    """

    north_arcmin: float
    west_arcmin: float
    by_altitude: tuple[float, float]
    by_azimuth: tuple[float, float]

    @property
    def total_arcmin(self) -> float:
        """The whole distance from the middle."""
        return float(np.hypot(self.north_arcmin, self.west_arcmin))


@dataclass(frozen=True)
class ExpectedDrift:
    """The drift of a star after the turn: expected value, its sigma, and what it was before."""

    before_arcsec: float
    after_arcsec: float
    sigma_arcsec: float


def star_move(
    high_arcmin: float,
    east_arcmin: float,
    hour_angle_h: float,
    declination_deg: float,
    base: Base,
) -> StarMove:
    """Where a star goes in the field when the bolts bring this axis error to nought.

    The tube stays where it is on the mount; the sky's own motion in the meantime is not in it
    (follow it, or turn the bolts within a few seconds).
    """
    observer, altitude = base.observer, base.pole_altitude_deg
    to_pole, to_east = base.leans_to_pole_deg, base.leans_east_deg
    star = seen_vectors(hour_angle_h, declination_deg, observer)
    up_deg, east_deg = (
        float(v) for v in head_turns_deg(high_arcmin, east_arcmin, altitude, to_pole, to_east)
    )
    axis = polar_axis(observer.latitude_deg, high_arcmin, east_arcmin, pole_altitude_deg=altitude)
    sense = 1.0 if observer.north else -1.0
    lean = np.array([np.tan(to_east * _DEG), sense * np.tan(to_pole * _DEG), 1.0], dtype=np.float64)
    vertical = lean / np.linalg.norm(lean)
    # The hinge lies square to the base's vertical and to the axis.
    hinge = np.cross(axis, vertical)
    hinge = hinge / np.linalg.norm(hinge)
    raised = rotate_about(star, hinge, up_deg)
    # Towards the east: clockwise from above in the north, the other way when facing south.
    both = rotate_about(raised, vertical, -sense * east_deg)
    first = _seen_from(star, raised, observer)
    whole = _seen_from(star, both, observer)
    return StarMove(
        north_arcmin=whole[0],
        west_arcmin=whole[1],
        by_altitude=first,
        by_azimuth=(whole[0] - first[0], whole[1] - first[1]),
    )


def _seen_from(star: Floats, middle: Floats, observer: Observer) -> tuple[float, float]:
    """Where a star stands from where the middle of the field went: (north, west) arcminutes."""
    a = observer.latitude_deg * _DEG
    north_pole = np.array([0.0, np.cos(a), np.sin(a)])
    west = np.cross(star, north_pole)
    west = west / np.linalg.norm(west)
    north = np.cross(west, star)
    off = star - middle
    return float(off @ north) / _DEG * 60.0, float(off @ west) / _DEG * 60.0


def expected_drift(
    estimate: AxisEstimate,
    hour_angle_h: float,
    declination_deg: float,
    watched_s: float,
    observer: Observer,
    *,
    pole: Pole = "refracted",
    bolt_fault: float = 0.1,
) -> ExpectedDrift:
    """What drift a star should show before the turn, and after it if the bolts do their work.

    After a perfect turn the axis stands on the pole as well as it was known; the bolts' own
    figure may be wrong by the fraction `bolt_fault` of the turn (common practice, no source).
    """
    before = float(
        drift_arcsec(
            estimate.high_arcmin, estimate.east_arcmin, hour_angle_h, declination_deg, watched_s,
            observer, pole,
        )
    )  # fmt: skip
    after = float(drift_arcsec(0.0, 0.0, hour_angle_h, declination_deg, watched_s, observer, pole))
    slope = np.array(
        [
            float(drift_arcsec(h, e, hour_angle_h, declination_deg, watched_s, observer, pole))
            - after
            for h, e in ((1.0, 0.0), (0.0, 1.0))
        ]
    )
    covariance = estimate.covariance
    if covariance is None:
        return ExpectedDrift(before, after, float("inf"))
    turn = bolt_fault * estimate.values
    spread = covariance + np.diag(turn**2)
    return ExpectedDrift(before, after, float(np.sqrt(slope @ spread @ slope)))
