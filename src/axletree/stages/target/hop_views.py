"""What does the finder show while each star of a hop stands in its middle?"""

from __future__ import annotations

import numpy as np

from axletree.find.patch import patch_around
from axletree.find.shown_object import shown_object
from axletree.find.view import FieldView, PosedRig, field_view, seen_angle_deg, turned_in
from axletree.mount.rig.field_orientation import sky_ways
from axletree.mount.rig.kinematics import axis_angles_of_vector
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.stars_around import FAINTEST_MAG
from axletree.sky.directions import vector_from_azimuth_altitude, wrap_180
from axletree.stages.target.find import FindAnswer


def hop_turns_deg(answer: FindAnswer) -> list[float]:
    """By how many degrees the finder's picture turns on the way of each step of the hop, clockwise
    positive, above -180 to 180: near the zenith the head goes round. [] without a hop.

    What doesn't turn is the way from star to star, a great circle; where it points is compared.
    """
    found = answer.finding
    if found is None or found.hop is None:
        return []
    seen, near, latitude_deg = found.views.finder, found.near_patch, answer.kit.site.latitude_deg
    if seen is None or near is None:
        return []
    rows = [step.present.row for step in found.hop.steps]
    azimuths = [*(near.star_azimuth_deg[row] for row in rows), near.azimuth_deg]
    altitudes = [*(near.star_altitude_deg[row] for row in rows), near.altitude_deg]
    places = vector_from_azimuth_altitude(np.array(azimuths), np.array(altitudes))
    arrival = seen.turned.north_deg
    norths = [*(found.north_deg.get(s.present.number, arrival) for s in found.hop.steps), arrival]
    turns = []
    for k in range(len(rows)):
        begin, end = places[k], places[k + 1]
        along = _position_angle_deg(begin, end, latitude_deg)
        onward = _position_angle_deg(end, begin, latitude_deg) + 180.0
        mirrored = seen.turned.mirrored
        before = seen_angle_deg(along, norths[k], mirrored)
        turns.append(float(wrap_180(seen_angle_deg(onward, norths[k + 1], mirrored) - before)))
    return turns


def _position_angle_deg(place: Floats, towards: Floats, latitude_deg: float) -> float:
    """Of the great circle from one direction to another, from north through east."""
    north, drift, _ = sky_ways(place, latitude_deg)
    step = towards - place * float(place @ towards)
    return float(np.degrees(np.arctan2(-(step @ drift), step @ north)))


def hop_views(answer: FindAnswer) -> tuple[FieldView, ...]:
    """The finder's field about the star that each step begins at, in the order of the steps.

    Posed as the mount stands there, at the time of arrival; the object is in it where it lies
    inside. () without a hop.
    """
    q, found = answer.question, answer.finding
    if q is None or found is None or found.hop is None or found.near_patch is None:
        return ()
    seen = found.views.finder
    if seen is None:
        return ()
    finder = seen.instrument
    limit = min(seen.limit_mag, FAINTEST_MAG)
    views = []
    for step in found.hop.steps:
        row = step.present.row
        azimuth = float(found.near_patch.star_azimuth_deg[row])
        altitude = float(found.near_patch.star_altitude_deg[row])
        patch = patch_around(azimuth, altitude, seen.radius_deg, q.arrival, q.observer, limit)
        vector = vector_from_azimuth_altitude(azimuth, altitude)
        end_h, swing = axis_angles_of_vector(q.table.axes, q.side, vector)
        posed = PosedRig(q.table.rig, q.kit.tube, q.table.axes, float(end_h), float(swing))
        shown = shown_object(q.target, patch, q.arrival, q.observer, q.diameter_deg)
        there = np.isfinite(np.hypot(shown.east_deg, shown.north_deg))
        turned = turned_in(finder, patch, q.observer.latitude_deg, posed)
        views.append(field_view(patch, finder, turned, seen.limit_mag, shown if there else None))
    return tuple(views)
