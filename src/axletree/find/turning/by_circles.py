"""Where no star shows to the bare eye: do both circles, as the mount was set, bring something into
the finder's field, and what do they show then?
"""

from __future__ import annotations

import numpy as np

from axletree.axis.marks import hour_reading_h
from axletree.axis.shown import circles_shown
from axletree.find.chance import in_field
from axletree.find.turning.knobs import Mounted, knob_figures
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.frozen import dataclass
from axletree.kit.parts.circles import HourMarks
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation


@dataclass(frozen=True)
class ByCircles:
    """Both circles' readings on something, and the chance 0-1 that they bring it into the finder.

    `hour_reading_h` as the kit's circle is marked (`marks`); `declination_deg` of the circle.
    """

    marks: HourMarks
    hour_reading_h: float
    declination_deg: float
    chance: float


def by_circles(mounted: Mounted, place: SkyPlace, arrival: Instants) -> ByCircles | None:
    """The way by the circles alone to a place (1,); None without a finder that magnifies, and where
    the tube can't be pointed there.

    The errors are those of the mount as far as it is known and of one reading of each circle.
    """
    if mounted.finder_field_deg is None:
        return None
    shown = circles_shown(
        mounted.model, place.hour_angle_h, place.declination_deg, mounted.side, mounted.observer
    )
    if not shown.reached[0]:
        return None
    read_deg = np.array([knob.circle_sigma_deg for knob in knob_figures(mounted)])
    circles_deg2 = shown.covariance_arcmin2[0] / 3600.0 + np.diag(read_deg**2)
    # An hour circle's degree is the shorter on the sky the nearer the pole.
    across = np.diag([float(np.cos(np.radians(place.declination_deg[0]))), 1.0])
    sky_deg2 = across @ circles_deg2 @ across
    turned = orientation(arrival[:1], mounted.observer)
    sidereal_h = float(turned.sidereal_time_rad[0]) * 12.0 / np.pi
    marks = mounted.kit.mount.circles.hour_marks
    return ByCircles(
        marks,
        hour_reading_h(marks, float(shown.hour_circle_h[0]), sidereal_h),
        float(shown.declination_circle_deg[0]),
        in_field((0.0, 0.0), sky_deg2, mounted.finder_field_deg / 2.0),
    )
