"""What does the finder show while each star of a hop stands in its middle?"""

from __future__ import annotations

import numpy as np

from axletree.find.patch import patch_around
from axletree.find.shown_object import shown_object
from axletree.find.view import FieldView, PosedRig, field_view, turned_in
from axletree.mount.rig.kinematics import axis_angles_of_vector
from axletree.sky.catalogue.stars_around import FAINTEST_MAG
from axletree.sky.directions import vector_from_azimuth_altitude
from axletree.stages.target.find import FindAnswer


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
