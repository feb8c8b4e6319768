"""What `point` says of the person's own circles, against forms of textbooks.

dDec = u cos H - v sin H, dHA = (u sin H + v cos H) tan dec for an axis high by u and east by v,
cone c sec dec, opposite on the other side (W. Chauvenet 1876, vol. 2 pp. 367-390, as cited by
M. A. Covington 1999); the slipped circle of J. N. Lockyer 1878, Stargazing, ch. XXI.
"""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.axis.model import PointingModel, unmeasured
from axletree.axis.sides import SideCircles, SideOutOfReach
from axletree.axis.state import State
from axletree.axis.unknowns import UNKNOWNS
from axletree.axis.voids import Moved, void
from axletree.evening.sheet.plan import EveningRequest, prepare
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.room.sides_now import targets_at
from axletree.mount.room.table import RoomTable
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.enough import as_set_arcmin, pointing_known
from axletree.stages.target.find import FindRequest, find_object
from axletree.stages.target.point import PointAnswer, PointRequest, point, table_of
from axletree.stages.target.room import RoomRequest, room
from axletree.tell.point.data import point_data
from axletree.tell.point.drawing import point_drawing
from axletree.tell.point.text import point_text
from axletree.tell.room.data import room_data
from axletree.tell.room.text import room_text

KIT = demo_kit("courtyard")
AT = datetime(2026, 8, 12, 21, tzinfo=UTC)


@pytest.fixture(scope="module")
def table() -> RoomTable:
    return table_of(KIT, AT)


def mount(**faults: float) -> PointingModel:
    values = np.array([faults.get(name, 0.0) for name in UNKNOWNS])
    return unmeasured(0.0, 0.0).with_values(values, np.zeros((6, 6)))


def asked(table: RoomTable, model: PointingModel | None, name: str = "Arcturus") -> PointAnswer:
    return point(KIT, PointRequest(name, AT, table=table, pointing=model))


def with_circles(marks: str, circle: str) -> Kit:
    changes = {"hour_marks": marks, "hour_circle": circle}
    circles = KIT.mount.circles.model_copy(update=changes)
    return KIT.model_copy(update={"mount": KIT.mount.model_copy(update={"circles": circles})})


def both(answer: PointAnswer) -> tuple[SideCircles, SideCircles]:
    assert answer.circles is not None
    east, west = answer.circles
    assert isinstance(east, SideCircles)
    assert isinstance(west, SideCircles)
    assert (east.side, west.side) == ("east", "west")
    return east, west


def test_the_trial_of_an_axis_off_by_a_degree_and_a_half(table):
    """First order in 1.5 degrees: 2.5 arcminutes times the secant; a slip of 2 degrees on top."""
    perfect = both(asked(table, mount()))
    answer = asked(table, mount(high=60.0, east=-67.0, cone=30.0, index_declination=120.0))
    assert answer.place is not None
    H, d = np.radians(answer.place.hour_angle_h * 15.0), np.radians(answer.place.declination_deg)
    d_dec = 60.0 * np.cos(H) + 67.0 * np.sin(H)
    d_hour = (60.0 * np.sin(H) - 67.0 * np.cos(H)) * np.tan(d)
    assert abs(d_dec) > 60.0
    for own, true, side in zip(both(answer), perfect, (1, -1), strict=True):
        found = (own.declination_circle_deg - true.declination_circle_deg) * 60.0
        assert found == pytest.approx(d_dec + side * 120.0, abs=3.0)
        hour = ((own.hour_circle_h - true.hour_circle_h + 12.0) % 24.0 - 12.0) * 900.0
        assert hour == pytest.approx(d_hour + side * 30.0 / np.cos(d), abs=3.0)
        # Both ways of marking, together, are the sidereal time, the same on both sides.
        assert (own.right_ascension_h + own.hour_circle_h - true.right_ascension_h
                - true.hour_circle_h + 12.0) % 24.0 == pytest.approx(12.0, abs=1e-9)  # fmt: skip


def test_a_perfect_mount_shows_the_object_as_seen_about_the_refracted_pole(table):
    """Right ascension of date from the almanac of the stars: within the air's two arcminutes."""
    answer = asked(table, mount())
    assert answer.place is not None
    for own in both(answer):
        assert own.declination_circle_deg == pytest.approx(answer.place.declination_deg, abs=0.04)
        assert own.hour_circle_h == pytest.approx(answer.place.hour_angle_h % 24.0, abs=0.003)
        # Arcturus at J2000: 14h 15m 39.67s (Hipparcos); 26.6 years of precession add 73 s.
        assert own.right_ascension_h == pytest.approx(14.2610 + 73.0 / 3600.0, abs=0.004)


def test_a_mount_that_nobody_measured_is_as_good_as_its_axis_was_set(table):
    """The figures of a perfect mount; of the error to first order, near the meridian: the axis's
    height, the usual index error of a degree (our figure) and the lean add up in the square."""
    perfect, told = asked(table, mount()), asked(table, None)
    assert told.pointing == pointing_known(KIT, None, AT)
    high, east = as_set_arcmin(KIT, AT)
    assert told.place is not None
    H = np.radians(told.place.hour_angle_h * 15.0)
    axis = np.hypot(high * np.cos(H), east * np.sin(H))
    for own, true in zip(both(told), both(perfect), strict=True):
        assert own.declination_circle_deg == pytest.approx(true.declination_circle_deg)
        assert own.hour_circle_h == pytest.approx(true.hour_circle_h)
        expected = np.sqrt(axis**2 + 60.0**2 + 10.0**2)
        assert own.declination_sigma_arcmin == pytest.approx(expected, rel=0.02)
    data = {k: v for k, v in point_data(told).items() if k != "circles"}
    assert data == {k: v for k, v in point_data(perfect).items() if k != "circles"}
    for words in (point_text(told), point_drawing(told)):
        assert "±" in words
    assert "of a mount that nobody measured" in " ".join(point_text(told).split())


@pytest.mark.parametrize("marks", ["hour angle", "right ascension"])
def test_a_circle_that_slips_is_set_on_a_star_first(table, marks):
    """By the definition of both marks: reading differences of star and object are those of hour
    angle (or right ascension), whatever index error the mount had before; near the star the
    remaining error is that of two readings (a third of ten minutes each) and little of the axis."""
    kit = with_circles(marks, "slipped")
    model = mount(index_hour=400.0)
    answer = point(kit, PointRequest("Arcturus", AT, table=table, pointing=model))
    assert answer.place is not None
    chosen = answer.set_on[0]
    assert chosen is not None
    star = targets_at([find(chosen.star)], Instants.from_datetime(AT), observer_of(kit.site))
    between_h = answer.place.hour_angle_h - float(star.hour_angle_h()[0])
    between_h = between_h if marks == "hour angle" else -between_h
    found = (chosen.object_reading_h - chosen.star_reading_h - between_h + 12.0) % 24.0 - 12.0
    assert found * 60.0 == pytest.approx(0.0, abs=0.2)  # the air between both
    assert chosen.sigma_min == pytest.approx(10.0 * kit.mount.circles.read_division * 2**0.5)
    words = " ".join(point_text(answer).split())
    assert f"on {chosen.star}" in words
    assert "then turn to" in words
    data = point_data(answer)["circles"]
    assert data["hour_marks"] == marks
    assert data["sides"][0]["set_on"]["star"] == chosen.star


def test_right_ascension_stands_beside_the_hour_angle(table):
    """Arcturus at J2000: 14h 15m 39.67s (Hipparcos); 26.6 years of precession add 73 s."""
    answer = asked(table, None)
    assert "hour angle +3h 37m (right ascension 14h 17m)" in " ".join(point_text(answer).split())
    assert point_data(answer)["right_ascension_h"] == pytest.approx(14.2610 + 0.0203, abs=0.001)


def test_a_circle_that_was_turned_to_anywhere_is_told_as_unknown(table):
    lost = void(unmeasured(5.0, 5.0, AT), Moved.HOUR_CIRCLE, AT)
    kit = with_circles("hour angle", "fixed")
    answer = point(kit, PointRequest("Arcturus", AT, table=table, pointing=lost))
    for own in both(answer):
        assert own.hour_lost
        assert not own.declination_lost
    assert point_text(answer).count("unknown: set it on a star") == 4
    sides = point_data(answer)["circles"]["sides"]
    assert [side["hour_lost"] for side in sides] == [True, True]


def test_the_pole_star_under_a_tube_out_of_the_square(table):
    """Polaris stands two thirds of a degree from the pole; a cone of two degrees keeps off it."""
    answer = asked(table, mount(cone=120.0), "Polaris")
    assert answer.circles is not None
    for side in answer.circles:
        assert isinstance(side, SideOutOfReach)
        assert side.reason.from_axis_deg == pytest.approx(0.63, abs=0.06)
        assert side.reason.least_from_axis_deg == pytest.approx(2.0)
    assert "out of reach" in point_text(answer)
    assert all(not side["reached"] for side in point_data(answer)["circles"]["sides"])
    assert "out of reach" in point_drawing(answer)


def test_a_leaning_declination_axis_brings_the_tube_nearer_to_the_pole(table):
    """The tube stands 90 - cone from that axis, the pole 90 - lean: at the nearest they are
    |cone - lean| apart (spherical triangle, by hand)."""
    for cone, lean in ((120.0, 60.0), (-120.0, -60.0)):
        answer = asked(table, mount(cone=cone, lean=lean), "Polaris")
        assert answer.circles is not None
        for side in answer.circles:
            assert isinstance(side, SideOutOfReach)
            assert side.reason.least_from_axis_deg == pytest.approx(1.0)


def test_no_circles_beside_the_sun():
    """Whatever is known of the mount, what stands too near the Sun gets no direction."""
    noon = datetime(2026, 6, 21, 12, tzinfo=UTC)
    found = point(KIT, PointRequest("Mercury", noon, table=table_of(KIT, noon), pointing=mount()))
    assert found.refusal is not None
    assert found.circles is None
    assert "circles" not in point_data(found)


def test_what_the_circles_rest_on_is_told_with_its_size():
    """The axis as well as `enough` says it was set; cone and lean as usual mounts have them."""
    told = " ".join(point_text(point(KIT, PointRequest("Arcturus", AT))).split())
    high, east = as_set_arcmin(KIT, AT, None)
    assert f"as it was set: axis ±{high:.0f}′ high, ±{east:.0f}′ east" in told
    assert "cone of the tube ±20′, lean of the declination axis ±10′" in told
    moved = void(mount(), Moved.HOUR_CIRCLE, AT)
    text = " ".join(point_text(point(KIT, PointRequest("Arcturus", AT, pointing=moved))).split())
    assert "hour circle ±" not in text
    assert "hour circle;" in text


def test_find_and_the_plan_have_the_room_of_the_axes_as_they_stand():
    """The same room as `point` tells of the same mount, which the next check holds to a formula."""
    known = State(mount(high=0.0, east=-120.0), AT.date(), AT, 1)
    own = point(KIT, PointRequest("Arcturus", AT, state=known))
    found = find_object(KIT, FindRequest("Arcturus", AT, state=known))
    assert own.choice is not None
    assert found.choice is not None
    turned = [side.tube_end_h for side in own.choice.sides]
    assert [side.tube_end_h for side in found.choice.sides] == turned
    perfect = find_object(KIT, FindRequest("Arcturus", AT)).choice
    assert perfect is not None
    assert [side.tube_end_h for side in perfect.sides] != turned
    request = EveningRequest(AT.date(), AT, state=known)
    planned = prepare(KIT, observer_of(KIT.site), request)
    assert own.table is not None
    assert planned.ground.table.axes.pole == pytest.approx(own.table.axes.pole, abs=1e-12)


def test_room_is_that_of_the_axes_as_they_stand():
    """The shaft stands where dHA = (u sin H + v cos H) tan dec puts it, and room goes by that."""
    known = State(mount(high=0.0, east=-120.0), AT.date(), AT, 1)
    true = point(KIT, PointRequest("Arcturus", AT))
    own = point(KIT, PointRequest("Arcturus", AT, state=known))
    shown = room(KIT, RoomRequest(AT, ("Arcturus",), state=known))
    assert own.choice is not None
    assert true.choice is not None
    assert true.place is not None
    assert shown.objects[0].choice is not None
    assert "this mount's own axes" in " ".join(room_text(shown).split())
    assert room_data(shown)["state"]["evening"] == str(AT.date())
    H, d = np.radians(true.place.hour_angle_h * 15.0), np.radians(true.place.declination_deg)
    off_h = -120.0 * np.cos(H) * np.tan(d) / 900.0
    for side in ("east", "west"):
        before, after = getattr(true.choice, side), getattr(own.choice, side)
        assert after.tube_end_h - before.tube_end_h == pytest.approx(off_h, abs=0.003)
        assert getattr(shown.objects[0].choice, side).room_h == pytest.approx(after.room_h)
