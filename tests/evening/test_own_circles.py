"""An evening tells what this mount's own circles show at each stop, on every surface.

dDec = u cos H - v sin H, dHA = (u sin H + v cos H) tan dec for an axis high by u and east by v
(W. Chauvenet 1876, vol. 2, as cited by M. A. Covington 1999); index errors as they are defined.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.axis.circles_read import CirclesOf
from axletree.axis.model import Known, KnownBy, unmeasured
from axletree.axis.shown import circles_shown
from axletree.axis.state import State
from axletree.axis.unknowns import UNKNOWNS, ModelPart
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.sheet.tables import EYE_EVERY, night_tables
from axletree.evening.stops.own_circles import with_own_circles
from axletree.evening.stops.stop import Stop
from axletree.kit.kit import demo_kit
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.stages.night.evening import pointing_of_evening
from axletree.stages.target.follow import FollowRequest, follow
from axletree.tell.evening.calendar_file import evening_ics
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import evening_json, read_evening
from axletree.tell.evening.text import evening_text
from axletree.tell.field_sheet.tables_data import tables_data
from axletree.tell.follow.text import follow_text

# An hour circle that is never set on a star shows what the mount has.
_CIRCLES = demo_kit().mount.circles.model_copy(update={"hour_circle": "fixed"})
_MOUNT = demo_kit().mount.model_copy(update={"circles": _CIRCLES})
# No side is barred because of what may touch there: the axes decide that, too.
_HABITS = demo_kit().habits.model_copy(update={"touch_chance_percent": 100.0})
KIT = demo_kit().model_copy(update={"mount": _MOUNT, "habits": _HABITS})
HERE = observer_of(KIT.site)
DAY, NOW = date(2026, 10, 10), datetime(2026, 10, 10, 18, tzinfo=UTC)
HIGH, EAST, SLIP, SIGMA = 20.0, -15.0, 120.0, 12.0


def state() -> State:
    values = np.array([{"high": HIGH, "east": EAST, "index_declination": SLIP}.get(name, 0.0)
                       for name in UNKNOWNS])  # fmt: skip
    covariance = np.zeros((6, 6))
    covariance[UNKNOWNS.index("index_hour"), UNKNOWNS.index("index_hour")] = SIGMA**2
    covariance[3, 3] = SIGMA**2
    known = Known(ModelPart.AXIS, KnownBy.MEASURED, NOW)
    return State(unmeasured(0.0, 0.0).with_values(values, covariance, known), DAY, NOW, 1)


def planned(known: State | None) -> Planned:
    return plan_whole(KIT, HERE, EveningRequest(DAY, NOW, minutes_per_stop=40.0, state=known))


@pytest.fixture(scope="module")
def both() -> tuple[Planned, Planned]:
    return planned(None), planned(state())


def right(stop: Stop) -> tuple[float, float]:
    """What the circles must show too much at a stop's begin: minutes and degrees."""
    H, d = np.radians(stop.start.hour_angle_h * 15.0), np.radians(stop.start.declination_deg)
    side = 1.0 if stop.chosen.side == "east" else -1.0
    off_d = HIGH * np.cos(H) - EAST * np.sin(H) + side * SLIP
    off_h = (HIGH * np.sin(H) + EAST * np.cos(H)) * np.tan(d)
    return float(off_h / 15.0), float(off_d / 60.0)


def test_each_stop_tells_what_this_mount_shows(both):
    without, with_ = (p.evening.stops for p in both)
    assert len(without) == len(with_) >= 3
    for bare, own in zip(without, with_, strict=True):
        assert (own.name, own.chosen.side) == (bare.name, bare.chosen.side)
        # A third of a degree changes what ends by contact by seconds, by the skyline not at all.
        assert abs(own.chosen.room_s - bare.chosen.room_s) < 120.0
        off_h, off_d = right(own)
        found_h = (own.start.hour_circle_h - bare.start.hour_circle_h + 12.0) % 24.0 - 12.0
        assert found_h * 60.0 == pytest.approx(off_h, abs=0.15)
        found_d = own.start.declination_circle_deg - bare.start.declination_circle_deg
        assert found_d == pytest.approx(off_d, abs=0.02)
        assert own.start.hour_circle_sigma_min == pytest.approx(SIGMA / 15.0, rel=1e-3)
        assert own.start.declination_circle_sigma_deg == pytest.approx(SIGMA / 60.0, rel=1e-3)
        assert own.finish.circles is CirclesOf.OWN
        assert bare.start.circles is CirclesOf.PERFECT
    assert with_own_circles(without, None, HERE) == without


def test_every_surface_tells_the_same_and_whence(both):
    document = evening_document(both[1].evening)
    assert read_evening(evening_json(document)) == document
    assert document.state is not None
    assert (document.state.evening, document.state.measurements) == (DAY, 1)
    assert document.stops[0].start.circles_code == "own"
    told = " ".join(evening_text(document).split())
    assert "by the notes of the evening of 10 October 2026" in told
    assert told.count("± 0.8 min") == len(document.stops)
    calendar = evening_ics(document).decode().replace("\r\n ", "")
    assert calendar.count("± 0.2°") == len(document.stops)
    bare = evening_document(both[0].evening)
    assert bare.state is None
    assert "±" not in " ".join(
        line for line in evening_text(bare).splitlines() if "Circles" in line
    )


def test_the_phone_has_them_for_every_moment_on_both_sides(both):
    tables = night_tables(KIT, HERE, both[1])
    stop = both[1].evening.stops[0]
    own = tables.objects[0]
    assert own.off is not None
    k = int(
        np.argmin(
            np.abs(tables.seconds[::EYE_EVERY] - (stop.start.at - tables.begin).total_seconds())
        )
    )
    off = own.off[0 if stop.chosen.side == "east" else 1]
    off_h, off_d = right(stop)
    assert off.hour_min[k] == pytest.approx(off_h, abs=0.3)
    assert off.declination_deg[k] == pytest.approx(off_d, abs=0.05)
    assert off.hour_sigma_min == pytest.approx(np.full(len(off.hour_min), SIGMA / 15.0), rel=0.01)
    side = tables_data(tables, "metric")["objects"][0]["sides"][stop.chosen.side]
    assert side["circles"]["hour_min"][k] == pytest.approx(off.hour_min[k], abs=0.006)
    assert tables.spares[0].start.circles is CirclesOf.OWN
    bare = tables_data(night_tables(KIT, HERE, both[0]), "metric")
    assert "circles" not in bare["objects"][0]["sides"]["east"]


def test_without_notes_every_surface_tells_how_well_the_axis_was_set():
    """The figures of a perfect mount, and the error of the model that `point` takes as well."""
    known = pointing_of_evening(KIT, None, DAY)
    request = EveningRequest(DAY, NOW, minutes_per_stop=40.0, pointing=known)
    whole = plan_whole(KIT, HERE, request)
    bare = planned(None).evening.stops
    for stop, perfect in zip(whole.evening.stops, bare, strict=True):
        side = 1 if stop.chosen.side == "east" else -1
        place = stop.start
        shown = circles_shown(known, place.hour_angle_h, place.declination_deg, side, HERE)
        assert place.circles is CirclesOf.AS_SET
        assert place.hour_circle_h == pytest.approx(perfect.start.hour_circle_h, abs=1e-4)
        sigma_deg = place.declination_circle_sigma_deg
        assert sigma_deg == pytest.approx(float(shown.declination_sigma_arcmin) / 60.0)
        # A degree of the circle, a third and a sixth of the tube and the axis on top.
        assert sigma_deg is not None
        assert 1.0 < sigma_deg < 1.6
    document = evening_document(whole.evening)
    assert document.state is None
    assert document.stops[0].start.circles_code == "as_set"
    told = " ".join(evening_text(document).split())
    assert "as on a mount that nobody measured" in told
    assert told.count("± 1.") >= len(document.stops)
    calendar = evening_ics(document).decode().replace("\r\n ", "")
    assert calendar.count("° ± 1.") == len(document.stops)
    side = tables_data(night_tables(KIT, HERE, whole), "metric")["objects"][0]["sides"]["east"]
    assert min(side["circles"]["declination_sigma_deg"]) > 1.0
    assert max(map(abs, side["circles"]["hour_min"])) < 0.02


def test_follow_tells_what_the_declination_knob_has_to_do():
    """J. Scheiner 1897, Die Photographie der Gestirne, p. 100, as the sign of dDec gives it."""
    for name in ("Vega", "Capella"):
        answer = follow(KIT, FollowRequest(find(name), NOW.replace(hour=22), state=state()))
        H = np.radians(answer.place.hour_angle_h * 15.0)
        rate = -15.041 * 60.0 * (HIGH * np.sin(H) + EAST * np.cos(H)) / 3437.75
        assert [one.side for one in answer.axis_work] == ["east", "west"]
        for one in answer.axis_work:
            air = answer.rates.seen_declination * 60.0
            assert one.declination_arcsec_per_min == pytest.approx(rate + air, abs=0.15)
        text = " ".join(follow_text(answer).split())
        way = "north" if rate + air > 0 else "south"
        assert f"a minute {way}" in text
        assert "by the notes of the evening of 10 October 2026" in text
    bare = follow(KIT, FollowRequest(find("Vega"), NOW))
    assert bare.axis_work == ()
    assert "With this mount" not in follow_text(bare)
