"""The hour circle set on a star before a stop: what it is set to, and what it shows afterwards.

Held against ERFA's own way from catalogue to hour angle (`erfa.atco13`, without air), and against a
ring that is turned on its shaft and read, as the hands do it.
"""

from __future__ import annotations

import itertools
import re
from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import erfa
import numpy as np
import pytest

from axletree.axis.marks import AfterSetting
from axletree.axis.model import unmeasured
from axletree.axis.state import State
from axletree.axis.unknowns import UNKNOWNS
from axletree.evening.ground_here import ground_of
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.evening.stops.set_on_star import (
    OBJECT_ITSELF_DEG,
    Aim,
    circle_set_for,
    may_be_set_on,
    way_begins,
)
from axletree.evening.stops.stop import Stop
from axletree.find.start_star import StartStar
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.catalogue.objects import find
from axletree.sky.catalogue.star_names import star_names
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import pointing_known
from axletree.stages.target.find import FindRequest, find_object
from axletree.stages.target.point import PointRequest, point
from axletree.tell.evening.stop_data import stop_facts
from axletree.tell.stop.circles_text import circles_words

# ICRS, J2000.0 (Hipparcos, from memory): hours, degrees.
STARS = {
    "Vega": (18 + 36 / 60 + 56.3 / 3600, 38 + 47 / 60),
    "Altair": (19 + 50 / 60 + 47.0 / 3600, 8 + 52 / 60),
    "Capella": (5 + 16 / 60 + 41.4 / 3600, 46.0),
    "Aldebaran": (4 + 35 / 60 + 55.2 / 3600, 16.51),
    "Rigel": (5 + 14 / 60 + 32.3 / 3600, -8.2),
    "Mirach": (1 + 9 / 60 + 43.9 / 3600, 35.62),
    "Schedar": (40 / 60 + 30.4 / 3600, 56.537),
    "Almach": (2 + 3 / 60 + 54.0 / 3600, 42.33),
    "Alpheratz": (8 / 60 + 23.3 / 3600, 29.09),
    "Deneb": (20 + 41 / 60 + 25.9 / 3600, 45.28),
    "Hamal": (2 + 7 / 60 + 10.4 / 3600, 23.462),
    "Diphda": (43 / 60 + 35.4 / 3600, -17.987),
    "Fomalhaut": (22 + 57 / 60 + 39.0 / 3600, -29.62),
}
SIDEREAL = 1.00273791
KINDS = [
    ("hour angle", "slipped", AfterSetting.WITH_CLOCK),
    ("right ascension", "slipped", AfterSetting.FALLS),
    ("right ascension", "driven", AfterSetting.KEPT),
    ("hour angle", "driven", AfterSetting.KEPT),
]


def hour_angle_h(kit: Kit, icrs: tuple[float, float], at: datetime) -> float:
    """By ERFA, for the kit's site, in hours from -12 to 12; UT1 taken as UTC, within 1 s."""
    utc = at.astimezone(UTC)
    first, second = erfa.dtf2d(
        "UTC", utc.year, utc.month, utc.day, utc.hour, utc.minute, utc.second
    )
    site = kit.site
    found = erfa.atco13(
        np.radians(icrs[0] * 15), np.radians(icrs[1]), 0, 0, 0, 0, first, second, 0.0,
        np.radians(site.longitude_deg), np.radians(site.latitude_deg), site.elevation_m,
        0, 0, 0, 0, 0, 0.55,
    )  # fmt: skip
    return float((np.degrees(found[2]) / 15 + 12) % 24 - 12)


def stops_of_kit(
    marks: str, circle: str, known: State | None = None
) -> tuple[Kit, tuple[Stop, ...]]:
    kit = demo_kit()
    changes: dict[str, Any] = {"hour_marks": marks, "hour_circle": circle}
    circles = kit.mount.circles.model_copy(update=changes)
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"circles": circles})})
    made = datetime(2026, 11, 25, 12, tzinfo=UTC)
    asked = EveningRequest(date(2026, 12, 5), made_at=made, state=known)
    return kit, plan_evening(kit, observer_of(kit.site), asked).stops


@pytest.mark.parametrize(("marks", "circle", "then"), KINDS)
def test_a_ring_turned_on_its_shaft_shows_what_the_sheet_says(
    marks: str, circle: str, then: AfterSetting
) -> None:
    """Within a minute: what the air bends differently at star and object is less than that."""
    kit, stops = stops_of_kit(marks, circle)
    looked, side = 0, ""
    for stop in stops:
        setting = stop.set_on
        # What the drive keeps is set anew only where the tube goes over.
        assert (setting is None) == (circle == "driven" and stop.chosen.side == side)
        side = stop.chosen.side
        if setting is None:
            continue
        assert setting.then is then
        if setting.star not in STARS or stop.right_ascension_j2000_h is None:
            continue
        looked += 1
        object_icrs = (stop.right_ascension_j2000_h, stop.declination_j2000_deg or 0.0)
        way = 1.0 if marks == "hour angle" else -1.0

        def shaft(icrs: tuple[float, float], later_s: float, begin: datetime = setting.at) -> float:
            # A driven ring turns west with the sky meanwhile: its pointer sees the shaft go less.
            own = hour_angle_h(kit, icrs, begin + timedelta(seconds=later_s))
            return own - (later_s * SIDEREAL / 3600 if circle == "driven" else 0.0)

        ring = setting.star_reading_h - way * shaft(STARS[setting.star], 0.0)
        expected = setting.object_reading_h
        assert near(way * shaft(object_icrs, 0.0) + ring, expected)
        change = {
            AfterSetting.WITH_CLOCK: 1200 * SIDEREAL, AfterSetting.FALLS: -1200 * SIDEREAL,
            AfterSetting.KEPT: 0.0,
        }[then] / 3600  # fmt: skip
        assert near(way * shaft(object_icrs, 1200.0) + ring, expected + change)
        true = hour_angle_h(kit, STARS[setting.star], setting.at)
        if marks == "hour angle":
            assert near(setting.star_reading_h, true)
    assert looked >= (1 if circle == "driven" else 3)


def near(a: float, b: float) -> bool:
    return abs((a - b + 12.0) % 24.0 - 12.0) < 1.0 / 60.0


@pytest.mark.parametrize("marks", ["hour angle", "right ascension"])
def test_what_the_drive_carries_keeps_the_ring_of_the_first_setting(marks: str) -> None:
    """Two stops on one tube side read differently by just what their right ascensions differ (by
    definition), and forget the same index error of the mount."""
    values = np.array([400.0 if name == "index_hour" else 0.0 for name in UNKNOWNS])
    known = State(
        unmeasured(0.0, 0.0).with_values(values, np.zeros((6, 6))),
        date(2026, 12, 5), datetime(2026, 12, 5, 18, tzinfo=UTC), 1,
    )  # fmt: skip
    _, stops = stops_of_kit(marks, "driven", known)
    pairs = [(a, b) for a, b in itertools.pairwise(stops) if b.set_on is None]
    assert len(pairs) >= 3
    for one, other in pairs:
        more_h = other.right_ascension_of_date_h - one.right_ascension_of_date_h
        more_h = -more_h if marks == "hour angle" else more_h
        assert near(other.start.hour_reading_h - one.start.hour_reading_h, more_h)
        assert near(other.finish.hour_reading_h, other.start.hour_reading_h)
        assert other.start.hour_circle_sigma_min == pytest.approx(
            one.start.hour_circle_sigma_min or 0.0
        )


@pytest.mark.parametrize(("faintest_seen", "faintest_set_on"), [(6.5, 2.6), (4.0, 2.25)])
def test_a_circle_is_set_on_a_star_that_anybody_knows(
    faintest_seen: float, faintest_set_on: float
) -> None:
    """The seven of the Dipper where it is dark, the brightest alone in a town, each by its name
    (common practice, no source); V by the catalogue, without the quarter that the air takes."""
    kit = demo_kit()
    changes = {"naked_eye_limit_mag": faintest_seen, "sky_brightness_mag_arcsec2": None}
    circles = kit.mount.circles.model_copy(update={"hour_circle": "slipped"})
    kit = kit.model_copy(update={
        "mount": kit.mount.model_copy(update={"circles": circles}),
        "site": kit.site.model_copy(update=changes),
    })  # fmt: skip
    observer, looked = observer_of(kit.site), set()
    for month in (2, 5, 8, 11):
        at = datetime(2026, month, 10, 22, tzinfo=UTC)
        table = ground_of(kit, observer, at).table
        for hour_angle, declination in itertools.product((-4.0, -1.0, 2.0), (-20.0, 10.0, 40.0)):
            aim = Aim(at, "east", hour_angle, declination, 0.0)
            star = way_begins(kit, observer, table, aim)
            made = circle_set_for(kit, observer, aim, None, star)
            if made is not None:
                looked.add(made.told.star)
    assert len(looked) >= 8
    proper = {name for star in star_names() for name in star.proper.split(";")}
    for name in looked:
        assert name in proper
        assert (find(name).magnitude_v or 0.0) <= faintest_set_on


def test_a_circle_on_the_housing_is_never_set() -> None:
    _, stops = stops_of_kit("hour angle", "fixed")
    assert stops
    assert all(stop.set_on is None for stop in stops)


def test_the_sheet_counts_the_minutes_of_a_circle_that_goes_stale() -> None:
    _, stops = stops_of_kit("right ascension", "slipped")
    told = stop_facts(stops[0], "metric")
    assert told.set_on is not None
    assert told.set_on.then_code == "falls"
    assert told.start.hour_reading_h == pytest.approx(told.set_on.object_reading_h)


def test_a_set_circle_forgets_its_index_and_keeps_the_axis() -> None:
    """To first order (textbooks): an axis too high by h shows h sin H tan d too much, counted from
    the star where the circle was set; two readings of a fifth of ten minutes remain."""
    high, slip = 30.0, 400.0
    values = np.array([{"high": high, "index_hour": slip}.get(n, 0.0) for n in UNKNOWNS])
    known = State(
        unmeasured(0.0, 0.0).with_values(values, np.zeros((6, 6))),
        date(2026, 12, 5), datetime(2026, 12, 5, 18, tzinfo=UTC), 1,
    )  # fmt: skip
    kit, bare = stops_of_kit("hour angle", "slipped")
    _, own = stops_of_kit("hour angle", "slipped", known)
    looked = 0
    for without, stop in zip(bare, own, strict=True):
        if stop.set_on is None or without.set_on is None or stop.set_on.star not in STARS:
            continue
        looked += 1
        star = STARS[stop.set_on.star]

        def more(hour_h: float, declination_deg: float) -> float:
            tan = np.tan(np.radians(declination_deg))
            return float(high / 15.0 * np.sin(np.radians(15.0 * hour_h)) * tan)

        expected = more(stop.start.hour_angle_h, stop.start.declination_deg) - more(
            hour_angle_h(kit, star, stop.set_on.at), star[1]
        )
        found = (stop.set_on.object_reading_h - without.set_on.object_reading_h) * 60.0
        assert found == pytest.approx(expected, abs=0.1)
        read = 10.0 * kit.mount.circles.read_division
        assert stop.set_on.sigma_min == pytest.approx(read * 2**0.5, rel=0.01)
    assert looked >= 3


def test_the_circle_is_set_where_the_way_begins() -> None:
    """One star named on a stop, and the same by the commands (what a person wants; no source)."""
    kit, _ = stops_of_kit("hour angle", "slipped")
    at = datetime(2026, 12, 5, 19, tzinfo=UTC)
    model = pointing_known(kit, None, at)
    observer = observer_of(kit.site)
    asked = EveningRequest(at.date(), made_at=at, pointing=model)
    stops, same = plan_evening(kit, observer, asked).stops, 0
    for stop in stops:
        assert stop.finding is not None
        if stop.finding.start is None:  # in twilight no star shows
            assert stop.set_on is None
            continue
        assert stop.set_on is not None
        assert isinstance(stop.finding.start, StartStar)
        if stop.finding.start.separation_deg < OBJECT_ITSELF_DEG:
            assert stop.set_on.star != stop.name
            continue
        same += stop.set_on.star == stop.finding.start.names[0]
    assert same >= len(stops) - 2 >= 5
    for name in ("M45", "M31", "Double Cluster"):
        found = find_object(kit, FindRequest(name, at))
        assert isinstance(found.finding.start if found.finding else None, StartStar)
        pointed = point(kit, PointRequest(name, at))
        set_on = pointed.set_on[0 if found.side == "east" else 1]
        assert set_on is not None
        assert set_on.star == found.finding.start.names[0]  # type: ignore[union-attr]


def test_the_circle_is_not_set_nearer_to_the_pole_than_the_aim_bears() -> None:
    """Missed by 3 arcminutes at declination 88.5, where an hour of the circle is 0.4 degrees, the
    circle is off by 2 degrees (spherical trigonometry: 3 arcminutes over cos d)."""
    sky = SkyPlace.of(np.array([2.0]), np.array([88.5]))
    star = StartStar(1, ("A",), 2.0, sky, 0.0, 50.0, 60.0, 0.2)
    at = datetime(2026, 12, 5, 19, tzinfo=UTC)
    assert not may_be_set_on(star, Aim(at, "east", 1.0, 30.0, 0.0))
    assert may_be_set_on(star, Aim(at, "east", 1.0, 87.5, 0.0))


@pytest.mark.parametrize(("marks", "circle", "_"), KINDS)
def test_what_stands_in_brackets_is_the_object_s_other_figure(
    marks: str, circle: str, _: AfterSetting
) -> None:
    """Right ascension of date is the sidereal time less the hour angle (their definition), however
    long ago the circle was set; two minutes are what air and two roundings take."""
    _, stops = stops_of_kit(marks, circle)
    assert len(stops) > 3
    for stop in stops:
        told = stop_facts(stop, "metric")
        rig = SimpleNamespace(hour_marks=marks, hour_circle=circle)
        words = circles_words(rig, told.start)
        found = re.search(r"\((hour angle|right ascension) ([+−]?)(\d+)h (\d\d)m\)", words)
        assert found is not None
        name, sign, hours, minutes = found.groups()
        figure = (-1 if sign == "−" else 1) * (int(hours) + int(minutes) / 60.0)
        right = stop.start.hour_angle_h if name == "hour angle" else stop.right_ascension_of_date_h
        assert abs((figure - right + 12.0) % 24.0 - 12.0) < 2.0 / 60.0
