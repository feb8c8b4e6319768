"""What do the circles of the person's own mount show at each stop, and how well is that known?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from axletree.axis.circles_read import CirclesOf, StopPlace
from axletree.axis.model import PointingModel
from axletree.axis.shown import ShownCircles, circles_shown
from axletree.evening.stops.stop import Stop
from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import side_sign
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer


def with_own_circles(
    stops: Sequence[Stop], model: PointingModel | None, observer: Observer
) -> tuple[Stop, ...]:
    """The stops with what this mount's own circles show; as they are without a model.

    A place that the tube can't reach on the stop's side keeps the figures of a perfect mount, and
    says so.
    """
    if model is None or not stops:
        return tuple(stops)
    places = [place for stop in stops for place in (stop.start, stop.finish)]
    sides = side_sign([stop.chosen.side for stop in stops for _ in range(2)])
    shown = circles_shown(
        model,
        np.array([place.hour_angle_h for place in places]),
        np.array([place.declination_deg for place in places]),
        sides,
        observer,
    )
    whose = CirclesOf.OWN if model.looked_at else CirclesOf.AS_SET
    own = [_own(place, shown, k, whose) for k, place in enumerate(places)]
    return tuple(
        replace(stop, start=own[2 * k], finish=own[2 * k + 1]) for k, stop in enumerate(stops)
    )


def _own(place: StopPlace, shown: ShownCircles, k: int, whose: CirclesOf) -> StopPlace:
    if shown.refusals[k] is not None:
        return replace(place, circles=CirclesOf.OUT_OF_REACH)
    return replace(
        place,
        hour_circle_h=float(shown.hour_circle_h[k]),
        declination_circle_deg=float(shown.declination_circle_deg[k]),
        hour_circle_sigma_min=float(shown.hour_sigma_arcmin[k]) / 15.0,
        declination_circle_sigma_deg=float(shown.declination_sigma_arcmin[k]) / 60.0,
        circles=whose,
    )


@dataclass(frozen=True)
class CirclesOff:
    """What this mount's circles show more than a perfect one's along an object's way.

    Arrays over the samples of one tube side, with one standard deviation each; nan where the tube
    can't be pointed there.
    """

    hour_min: Floats
    declination_deg: Floats
    hour_sigma_min: Floats
    declination_sigma_deg: Floats


def circles_off(
    model: PointingModel, hour_angle_h: Floats, declination_deg: Floats,
    perfect: tuple[Floats, Floats], observer: Observer,
) -> tuple[CirclesOff, CirclesOff]:  # fmt: skip
    """The same along a way for side east and side west; `perfect`: both circles of a perfect mount,
    hours and degrees, sample by sample."""

    def of(side: int) -> CirclesOff:
        shown = circles_shown(model, hour_angle_h, declination_deg, side, observer)
        return CirclesOff(
            hour_min=np.asarray(wrap_h(shown.hour_circle_h - perfect[0])) * 60.0,
            declination_deg=shown.declination_circle_deg - perfect[1],
            hour_sigma_min=shown.hour_sigma_arcmin / 15.0,
            declination_sigma_deg=shown.declination_sigma_arcmin / 60.0,
        )

    return of(1), of(-1)
