"""The tube's way from pose to pose: its ends, through the pole, mirrored in the south."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.mount.rig.way import TubePose, tube_way
from axletree.sky.directions import azimuth_altitude

LATITUDE = 48.2
FROM, TO = TubePose(1.0, 20.0, -1), TubePose(-2.0, 35.0, 1)


def test_it_begins_and_ends_where_the_objects_stand() -> None:
    """On one side and over to the other; away from the pole's own altitude nothing wraps."""
    for start, end in ((FROM, TO), (TO, FROM), (FROM, TubePose(3.0, -10.0, -1))):
        way = tube_way(start, end, LATITUDE)
        for point, pose in ((way[0], start), (way[-1], end)):
            azimuth, altitude = azimuth_altitude(pose.hour_angle_h, pose.declination_deg, LATITUDE)
            assert point == pytest.approx([float(azimuth), float(altitude)])


def test_a_change_of_side_goes_through_the_pole() -> None:
    way = tube_way(FROM, TO, LATITUDE, 2001)
    pole = np.hypot((way[:, 0] + 180) % 360 - 180, way[:, 1] - LATITUDE)
    assert pole.min() < 0.1
    beside = tube_way(FROM, TubePose(-2.0, 35.0, -1), LATITUDE, 2001)
    assert np.hypot((beside[:, 0] + 180) % 360 - 180, beside[:, 1] - LATITUDE).min() > 20


def test_the_south_is_the_mirror_of_the_north() -> None:
    """At the same latitude and declinations south of the equator: south for north."""
    north = tube_way(FROM, TO, LATITUDE)
    south = tube_way(TubePose(1.0, -20.0, -1), TubePose(-2.0, -35.0, 1), -LATITUDE)
    assert south[:, 1] == pytest.approx(north[:, 1])
    assert np.cos(np.radians(south[:, 0])) == pytest.approx(-np.cos(np.radians(north[:, 0])))
    assert np.sin(np.radians(south[:, 0])) == pytest.approx(np.sin(np.radians(north[:, 0])))
