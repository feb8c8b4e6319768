"""Twilight belongs to the evening: what is bright comes before the pole star and after it fades.

Starts by the Sun's depth (3 to 6 degrees for Moon and planets, 8 for doubles, 11 for clusters, 15
for nebulae and galaxies): common practice, no source. Twilight away from the zenith: M. J. Koomen
et al. 1952, JOSA 42, 353, as remembered: several times the zenith above the Sun at 30 degrees of
altitude, less than the zenith opposite it.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from axletree.evening.given_up import GivenUpReason
from axletree.evening.night.first_light import (
    BRIGHT_THINGS_DEG,
    LONGEST_WAIT_S,
    ShowingTime,
    bright_pairs,
    showing_time,
    showing_times,
)
from axletree.evening.objects.choosing import LEAST_LASTING, with_lasting
from axletree.evening.seeing.shows_from import SUN_DOWN_DEG, sun_down_enough
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole, prepare
from axletree.evening.stops.stop import Meanwhile
from axletree.evening.year.night_samples import sample_nights
from axletree.ground.skyline.of_site import site_horizon
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.kit.parts.site import Skyline
from axletree.sky.air.brightness import twilight_brighter_mag, twilight_nanolamberts
from axletree.sky.observer import observer_of
from axletree.sky.positions.bodies import body_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.set_up.text import stage_words

MADE = datetime(2026, 3, 1, 12, tzinfo=UTC)
# Only the sky from south-west through west to north-east is free: no southern pair shows.
WALL_ROUND_THE_SOUTH = Skyline(
    points=[[80, 70], [100, 85], [180, 30], [260, 85], [280, 5], [60, 5]]
)


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


@pytest.fixture(scope="module")
def light_night() -> Planned:
    """64.5 north in June: the Sun sinks 2.1 degrees (90 - 64.5 - 23.4), no star leads anywhere."""
    kit = demo_kit("paddock")
    site = {"latitude_deg": 64.5, "longitude_deg": 11.5, "time_zone": "Europe/Oslo",
            "skyline": Skyline()}  # fmt: skip
    kit = kit.model_copy(update={"site": kit.site.model_copy(update=site)})
    return plan_whole(kit, observer_of(kit.site), EveningRequest(date(2026, 6, 20), made_at=MADE))


def test_where_the_sun_hardly_sinks_only_bright_stars_are_shown(light_night: Planned) -> None:
    stops = light_night.evening.stops
    assert stops
    for stop in stops:
        assert stop.candidate.thing.magnitude_v is not None
        assert stop.candidate.thing.magnitude_v <= 4.5, stop.name


def test_a_star_that_was_asked_for_is_shown_at_the_darkest() -> None:
    themes, light = np.array(["doubles"] * 3, dtype=object), np.array([0.0, 4.0, 5.2])
    free = sun_down_enough(themes, light, np.array([2.1]))
    assert free[:2] == pytest.approx(2.1 * 0.85)
    assert np.isinf(free[2])
    asked = sun_down_enough(themes, light, np.array([2.1]), np.array([False, False, True]))
    assert asked == pytest.approx(2.1 * 0.85)
    # Where it gets dark each waits for its own darkness.
    assert sun_down_enough(themes, light, np.array([40.0])).tolist() == [5.0, 8.0, 11.0]


def test_such_a_night_promises_no_pole_star_and_no_stars_to_look_at(light_night: Planned) -> None:
    """No star shows to the bare eye with the Sun 2 degrees down (common practice, no source)."""
    evening = light_night.evening
    assert evening.darkness.pole_star_visible is None
    pole = next(stage for stage in evening.stages if stage.name == "pole")
    said = " ".join(stage_words(evening, pole)[1])
    assert "doesn't come out tonight" in said
    assert "on the dial" not in said
    waits = [stop.wait for stop in evening.stops if stop.wait is not None]
    assert all(wait.meanwhile is not Meanwhile.BARE_EYE for wait in waits)
    # Nobody comes to wait for what shows an hour later.
    assert light_night.session is not None
    assert evening.stops[0].begin - light_night.session.first_stop < timedelta(minutes=15)
    faint = {left.reason for left in evening.given_up if left.name in ("M13", "M57")}
    assert faint == {GivenUpReason.NEVER_DARK}
    assert "no pole star to set by" in evening_text(evening_document(evening))


def test_hours_that_end_before_the_star_is_used_have_their_bright_part() -> None:
    """Évora in June: the Sun sets at 21:05 summer time, Polaris comes out 40 minutes later."""
    kit, day = demo_kit("courtyard"), date(2026, 6, 25)
    kit = kit.model_copy(update={"habits": kit.habits.model_copy(update={"bedtime": time(21, 50)})})
    observer = observer_of(kit.site)
    made = prepare(kit, observer, EveningRequest(day, made_at=MADE))
    assert made.session is not None
    assert not made.session.by_star
    assert made.darkness.pole_star_visible is not None
    assert made.session.first_stop < made.darkness.pole_star_visible
    nights = [Night.of(day, kit.site.time_zone)]
    (session,) = sample_nights(kit, observer, made.ground.horizon, nights, 900.0).sessions
    assert session is not None
    apart = session.first_stop - made.session.first_stop
    assert abs(apart.total_seconds()) < 60.0  # closed form and steps


def test_what_lasts_a_stop_comes_on_a_list_of_what_shows_too_late() -> None:
    """Of forty only two show for longer than half of the time; five further ones last too."""
    order, lasts = np.arange(60), np.zeros(60, dtype=np.bool_)
    lasts[[3, 10, 45, 47, 50, 55, 59]] = True
    assert with_lasting(order, lasts, 40).tolist() == [*range(40), 45, 47, 50, 55, 59]
    lasts[:LEAST_LASTING] = True
    assert with_lasting(order, lasts, 40).tolist() == list(range(40))


@pytest.fixture(scope="module")
def far_south() -> Kit:
    """53 degrees south, without a polar scope: its star shows to the eye with the Sun 14 degrees
    down (common practice, no source), in January two hours after sunset."""
    kit = demo_kit("courtyard")
    site = {"latitude_deg": -53.2, "longitude_deg": -70.9, "time_zone": "America/Punta_Arenas"}
    open_sky = Skyline(open_altitude_deg=5.0)
    return kit.model_copy(
        update={
            "site": kit.site.model_copy(update={**site, "skyline": open_sky}),
            "mount": kit.mount.model_copy(update={"polar_scope": PolarScope(kind="none")}),
            "habits": kit.habits.model_copy(update={"bedtime": None, "hours": 3.0}),
        }
    )


def times(kit: Kit, days: list[date]) -> list[ShowingTime]:
    nights = [Night.of(day, kit.site.time_zone) for day in days]
    noon = datetime(2027, 1, 22, 12, tzinfo=ZoneInfo(kit.site.time_zone))
    horizon, observer = site_horizon(kit.site, None, noon), observer_of(kit.site)
    found = showing_times(kit, observer, nights, horizon, star_serves=True)
    alone = [showing_time(kit, observer, n, horizon, star_serves=True) for n in nights]
    for many, one in zip(found, alone, strict=True):
        assert (many.star_at is None) == (one.star_at is None)
        assert abs((many.intervals[0][0] - one.intervals[0][0]).total_seconds()) < 5.0
    return found


def test_nobody_waits_an_hour_for_the_star_where_a_bright_pair_shows(far_south: Kit) -> None:
    """Alpha Centauri, two stars of 0 and 1 mag 9 arcseconds apart (published catalogues), never
    sets there, and shows with the Sun 5 degrees down."""
    assert {"Rigil Kentaurus", "Acrux"} <= set(bright_pairs(far_south).name.tolist())
    (found,) = times(far_south, [date(2027, 1, 22)])
    assert found.star_at is not None
    early_s = found.star_at.timestamp() - found.intervals[0][0].timestamp()
    assert early_s > LONGEST_WAIT_S


def test_it_is_begun_with_the_moon_when_it_comes_up_before_the_star(far_south: Kit) -> None:
    """The Moon may clear the skyline only after the light has gone: not at once, nor never."""
    short = far_south.model_copy(
        update={"mount": far_south.mount.model_copy(update={"polar_scope": PolarScope()})}
    )
    walled = short.model_copy(
        update={"site": short.site.model_copy(update={"skyline": WALL_ROUND_THE_SOUTH})}
    )
    days = [date(2027, 1, 1) + timedelta(days=k) for k in range(0, 120, 3)]
    begun = [t for t in times(walled, days) if t.star_at is not None]
    observer = observer_of(walled.site)
    waits = []
    for one in begun:
        at = Instants.from_datetime(one.intervals[0][0])
        sun = float(body_positions("sun", at, observer).altitude_true_deg[0, 0])
        waits.append(-sun)
    assert min(waits) == pytest.approx(BRIGHT_THINGS_DEG, abs=0.1)
    assert max(waits) > BRIGHT_THINGS_DEG + 0.5
