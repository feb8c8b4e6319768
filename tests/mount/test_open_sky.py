"""Where the sky closes: against walking in steps of 0.1 s, azimuth and altitude from ERFA.

The skylines are written twice: as points for the project, and as spans of azimuth.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import erfa
import numpy as np
import pytest
from scipy.optimize import brentq
from skylines import SKYLINES, height, skyline

from axletree.ground.skyline.skyline import horizon_from_points
from axletree.kit.kit import demo_kit
from axletree.mount.rig.kinematics import align
from axletree.mount.room.ends import BEHIND, BELOW, LOW, NOT_RISEN, NOTHING, SKYLINE, End
from axletree.mount.room.open_sky import OpenSky, closed_arcs, corners_of
from axletree.mount.room.reach import stretches
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room, room_end, room_table
from axletree.tell.side.text import end_words

STEP_S = 0.1
LOWEST_DEG = 15.0
HOURS = np.arange(-360, 360) / 30.0


def walked(name: str, latitude_deg: float, H: float, d: float, longest_h: float):
    """Whether the sky is closed at steps of 0.1 s; hour angle and altitude at each."""
    hours = H + np.arange(0.0, longest_h / HOURS_PER_SECOND, STEP_S) * HOURS_PER_SECOND
    azimuth, altitude = erfa.hd2ae(
        np.radians(hours * 15.0), np.radians(d), np.radians(latitude_deg)
    )
    altitude = np.degrees(altitude)
    closed = altitude < np.maximum(LOWEST_DEG, height(name, np.degrees(azimuth)))
    return closed, altitude


@cache
def _table(name: str) -> RoomTable:
    return room_table(demo_kit("courtyard"), skyline=skyline(name))


def sky_table(name: str, latitude_deg: float) -> RoomTable:
    """A table in which only this sky ends anything: no air, the rig's margin out of the way."""
    table = _table(name)
    return replace(table, margin_m=-9.0, axes=align(latitude_deg))


@pytest.mark.parametrize("name", SKYLINES)
def test_rooms_end_where_a_walk_in_tenths_of_a_second_meets_the_edge(name: str) -> None:
    rng = np.random.default_rng(sum(map(ord, name)))
    met = {SKYLINE: 0, LOW: 0, NOTHING: 0}
    for latitude in (-78.0, -35.0, 0.5, 38.0, 69.0):
        table = sky_table(name, latitude)
        H, d = rng.uniform(-12, 12, 40), np.degrees(np.arcsin(rng.uniform(-1, 1, 40)))
        found = room(table, H, d)
        for k in np.flatnonzero(found.usable[0]):
            # A minute more than the room: it must end in it, and nowhere before.
            longest_h = min(float(found.room_h[0, k]) + 0.02, 23.9)
            closed, altitude = walked(name, latitude, H[k], d[k], longest_h)
            assert not closed[0]
            code = End(found.ends[0, k])
            met[code] += 1
            if not closed.any():
                assert found.room_h[0, k] > 23.8
                continue
            first = int(closed.argmax())
            assert found.room_s[0, k] == pytest.approx(first * STEP_S, abs=0.2), (latitude, k)
            assert code == (LOW if altitude[first] < LOWEST_DEG else SKYLINE), (latitude, k)
    assert met[SKYLINE] > 10
    assert met[LOW] > 3 or name == "a gap"


def test_a_post_of_half_a_degree_ends_the_room_and_gives_it_back() -> None:
    """One object on its way behind the 0.6 degree post at azimuth 140: there for about 76 s."""
    table = sky_table("posts", 38.0)
    closed, _ = walked("posts", 38.0, -4.0, -10.0, 8.0)
    edges = np.flatnonzero(closed[1:] != closed[:-1]) * STEP_S
    arcs = closed_arcs(table.open_sky, np.array([-10.0]), HOURS)
    begin = np.mod(arcs.begin_h[0] + 4.0, 24.0)
    begin = np.sort(begin[begin < 8.0]) / HOURS_PER_SECOND
    end = np.mod(arcs.end_h[0] + 4.0, 24.0)
    end = np.sort(end[end < 8.0]) / HOURS_PER_SECOND
    behind = end[np.searchsorted(end, begin[0])] - begin[0]
    assert 60.0 < behind < 150.0
    assert np.sort(np.concatenate([begin, end])) == pytest.approx(edges, abs=0.2)
    assert len(edges) >= 4


def test_a_peak_that_shows_for_a_minute_is_not_lost() -> None:
    """An object that passes over a sloping wall's edge by a hair, between two samples."""
    wall = horizon_from_points([0, 90, 270], [0, 33, 17])
    sky = OpenSky(40.0, 10.0, wall.altitude_at, corners_of(wall, 10.0), None)
    hours = np.arange(-1.0, 1.0, 1e-5)

    def above(d: float):
        azimuth, altitude = erfa.hd2ae(np.radians(hours * 15), np.radians(d), np.radians(40.0))
        return np.degrees(altitude) - (33.0 - (np.degrees(azimuth) - 90.0) * 16.0 / 180.0)

    for hair in (1e-5, 5e-5, 1e-4, 2e-4, 4e-4):
        d = brentq(lambda d, hair=hair: above(d).max() - hair, -40.0, -10.0, xtol=1e-9)
        shows = hours[above(d) > 0.0]
        assert 0 < np.ptp(shows) < 0.034
        arcs = closed_arcs(sky, np.array([d]), HOURS)
        assert not arcs.always[0]
        assert arcs.end_h[0] == pytest.approx([shows[0]], abs=5e-5)
        assert arcs.begin_h[0] == pytest.approx([shows[-1]], abs=5e-5)


def test_reasons_name_what_is_there() -> None:
    table = sky_table("posts", 38.0)
    found = room(table, [-6.5, 6.5, 0.0, -5.3], [0.0, 0.0, -60.0, 0.0])
    assert [End(e) for e in found.ends[0]] == [NOT_RISEN, BELOW, BELOW, NOT_RISEN]
    behind = erfa.ae2hd(np.radians(140.3), np.radians(30.0), np.radians(38.0))
    H, d = np.degrees(behind[0]) / 15.0, np.degrees(behind[1])
    at = room(table, H, d)
    assert End(at.ends[0]) == BEHIND
    words = {End(code): end_words(room_end(table, code)) for code in End if code != End.CONTACT}
    assert len(set(words.values())) == len(words)
    assert words[BEHIND] == "it stands behind the skyline"
    assert words[NOT_RISEN] == "it has not risen to 15° yet"


def test_stretches_end_behind_the_wall_not_below_the_lowest_altitude() -> None:
    """At 38 degrees north the way of declination 0 meets the spire at azimuth 200.3 high up."""
    rows = stretches(sky_table("walls and a spire", 38.0), np.array([0.0]))
    at_spire = [s for s in rows if 0.5 < (s.to_h + 12) % 24 - 12 < 2.0]
    assert at_spire
    assert {s.ends.by for s in at_spire} == {SKYLINE}
    assert {s.ends.by.key for s in rows} == {"skyline", "low"}
