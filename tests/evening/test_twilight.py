"""Twilight belongs to the evening: what is bright comes before the pole star and after it fades.

Starts by the Sun's depth (3 to 6 degrees for Moon and planets, 8 for doubles, 11 for clusters, 15
for nebulae and galaxies): common practice, no source. Twilight away from the zenith: M. J. Koomen
et al. 1952, JOSA 42, 353, as remembered: several times the zenith above the Sun at 30 degrees of
altitude, less than the zenith opposite it.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest

from axletree.evening.night.first_light import BRIGHT_THINGS_DEG
from axletree.evening.seeing.shows_from import SUN_DOWN_DEG
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.kit.kit import demo_kit
from axletree.sky.air.brightness import twilight_brighter_mag, twilight_nanolamberts
from axletree.sky.observer import observer_of
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants

MADE = datetime(2026, 3, 1, 12, tzinfo=UTC)


def planned(name: str, day: date, **habits: object) -> Planned:
    kit = demo_kit(name)
    kit = kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})
    return plan_whole(kit, observer_of(kit.site), EveningRequest(day, made_at=MADE))


def sun_down_deg(plan: Planned, at: datetime) -> float:
    seen = body_positions("sun", Instants.from_datetime(at), plan.evening.observer)
    return -float(seen.altitude_true_deg[0, 0])


def test_the_twilight_sky_by_direction() -> None:
    assert np.allclose(twilight_brighter_mag(90.0, [0.0, 90.0, 180.0]), 0.0)
    sunward, aside, opposite = twilight_brighter_mag(30.0, [0.0, 90.0, 180.0])
    assert 2.0 < 10.0 ** (0.4 * sunward) < 6.0
    assert sunward > aside > 0.0 > opposite > -0.7
    assert twilight_brighter_mag(10.0, 0.0) > sunward
    # From 18.3 degrees down there is none, in whichever direction.
    assert float(twilight_nanolamberts(-18.5, 10.0, 0.0)) == 0.0
    assert float(twilight_nanolamberts(-6.0)) == float(twilight_nanolamberts(-6.0, 90.0, 17.0))
    assert twilight_nanolamberts(-7.0, 40.0, 180.0) < twilight_nanolamberts(-7.0, 40.0, 0.0)


@pytest.fixture(scope="module")
def december() -> Planned:
    """Saturn and the Moon stand over the paddock long before the southern pole star shows."""
    return planned("paddock", date(2026, 12, 20))


def test_moon_and_planets_come_before_the_pole_star(december: Planned) -> None:
    evening, session = december.evening, december.session
    assert session is not None
    between = session.set_between
    assert between is not None
    assert evening.darkness.pole_star_visible is not None
    assert abs((between[0] - evening.darkness.pole_star_visible).total_seconds()) < 2.0
    assert (between[1] - between[0]).total_seconds() == session.by_stars_min * 60.0
    early = [stop for stop in evening.stops if stop.end <= between[0]]
    assert {"moon", "saturn"} <= {stop.catalogue_id for stop in early}
    for stop in evening.stops:
        assert stop.end <= between[0] or stop.begin >= between[1]
    assert sun_down_deg(december, evening.stops[0].begin) >= BRIGHT_THINGS_DEG - 0.1
    stages = {stage.name: stage for stage in evening.stages}
    assert stages["pole"].begin == between[0]
    assert stages["check"].end == between[1]
    assert stages["finder"].end <= session.first_stop


def test_each_kind_waits_for_its_darkness(december: Planned) -> None:
    themes = {"double star": "doubles", "open cluster": "clusters", "emission nebula": "nebulae"}
    checked = 0
    for stop in december.evening.stops:
        theme = themes.get(stop.kind)
        if theme and (stop.magnitude_v is None or stop.magnitude_v > 1.5):
            checked += 1
            assert sun_down_deg(december, stop.begin) > SUN_DOWN_DEG[theme] - 0.3
    assert checked >= 4


def test_nothing_is_begun_early_for_a_kit_that_starts_later() -> None:
    late = planned("paddock", date(2026, 12, 20), start=datetime(2026, 1, 1, 23, 15).time())
    assert late.session is not None
    assert late.session.set_between is None
    assert f"{late.session.first_stop:%H:%M}" == "23:15"


def test_the_morning_is_used_until_bright_things_fade_but_never_to_sunrise() -> None:
    night = planned("paddock", date(2026, 12, 20), hours=16.0, visitors=0)
    assert night.session is not None
    dark = night.evening.darkness
    assert dark.sunrise is not None
    end = night.session.end
    assert sun_down_deg(night, end) == pytest.approx(BRIGHT_THINGS_DEG, abs=0.1)
    assert end < dark.sunrise
    assert len(night.evening.stops) > 12
    assert all(stop.end <= end for stop in night.evening.stops)
