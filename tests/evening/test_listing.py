"""What the telescope shows, filtered and ranked; and the nights on which an object is best."""

from __future__ import annotations

import json
import warnings
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from skyfield.api import Loader, Star, wgs84
from skyfield_data import get_skyfield_data_path

from axletree.cli import main
from axletree.evening.night.session_grid import moments_of
from axletree.evening.objects.kinds import kinds_named
from axletree.evening.objects.listing import Listing, ListingFilter, list_objects
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.sheet.plan import EveningRequest, prepare
from axletree.evening.year.best_nights import YearOf, best_nights
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants

KIT = demo_kit("courtyard")
DAY = date(2026, 12, 5)
Run = Callable[..., tuple[int, str, str]]


FLAT = Horizon(np.array([0.0, 360.0]), np.zeros(2))


def flat(azimuth_deg: object) -> np.ndarray:
    return np.zeros(np.shape(azimuth_deg))


def changed(**habits: object) -> Kit:
    return KIT.model_copy(update={"habits": KIT.habits.model_copy(update=habits)})


def listed(kit: Kit = KIT, day: date = DAY, at: Instants | None = None, **options) -> Listing:
    observer = observer_of(kit.site)
    instants = moments_of(kit, observer, day) if at is None else at
    return list_objects(
        kit, observer, instants, sky_state(kit, observer, instants), flat, ListingFilter(**options)
    )


def names(listing: Listing) -> list[str]:
    return [row.target.name for row in listing.rows]


def test_showpieces_of_a_december_evening_come_first() -> None:
    """Common practice: what a host in southern Europe shows in early December."""
    found = set(names(listed(limit=25)))
    assert len(found & {"M31", "M45", "M15", "Almach", "Albireo", "Saturn", "M57", "M27"}) >= 5


def test_kinds_themes_and_their_words() -> None:
    assert kinds_named(["Galaxies"]) == kinds_named(["galaxy"])
    assert kinds_named(["doubles", "globulars"]) == {"double star", "globular cluster"}
    assert "planetary nebula" in kinds_named(["nebulae"])
    with pytest.raises(AxletreeError, match="no kind 'dragons'"):
        kinds_named(["dragons"])
    only = listed(kinds=kinds_named(["globular clusters"]))
    assert only.rows
    assert {row.target.kind for row in only.rows} == {"globular cluster"}
    themed = listed(themes=("doubles",), limit=50)
    assert {row.target.kind for row in themed.rows} == {"double star"}


def test_pin_and_exclude() -> None:
    pinned = changed(must_see=("NGC 7331",), exclude=("M45",))
    found = listed(pinned, limit=5)
    assert found.rows[0].target.name == "NGC 7331"
    assert found.rows[0].must
    assert "M45" not in names(listed(pinned, limit=200))
    assert "M45" in names(listed(limit=200))
    with pytest.raises(AxletreeError, match="must_see"):
        listed(changed(must_see=("Nowhere",)))


def test_everything_listed_shows_and_counts_add_up() -> None:
    found = listed(limit=5000)
    assert len(found.rows) <= found.seen <= found.up <= found.matching
    for row in found.rows:
        assert row.shown
        assert row.margin_mag >= 0.0
        assert row.altitude_deg >= KIT.habits.lowest_altitude_deg
    more = listed(limit=5000, everything=True)
    assert len(more.rows) > len(found.rows)
    shown = [row.shown for row in more.rows]
    assert shown == sorted(shown, reverse=True)
    assert more.unknown > 100


def test_nothing_fainter_than_the_faintest_star_could_show() -> None:
    """Physics: spreading light never makes it easier to see than the same light in a point. The
    list leaves out what is fainter than the point limit; nothing near that limit may show."""
    found = listed(limit=5000)
    faint = [row.target for row in found.rows if (row.target.magnitude_v or 0.0) > found.limit_mag]
    assert all(thing.magnitude_guessed or thing.kind == "galaxy" for thing in faint)


def test_own_objects_are_ranked_beside_the_others() -> None:
    own = SkyObject("Our comet", "comet", 20.0, 40.0, magnitude_v=6.0, size_major_arcmin=8.0,
                    size_minor_arcmin=8.0, catalogue_id="own:Our comet")  # fmt: skip
    assert "Our comet" in names(listed(own=(own,), limit=60))
    assert names(listed(own=(own,), kinds=kinds_named(["comets"]))) == ["Our comet"]


def test_one_moment_and_a_bright_summer_night() -> None:
    at = Instants.from_datetime(datetime(2026, 12, 5, 20, tzinfo=KIT.site.zone))
    assert len(listed(at=at, limit=5).rows) == 5
    north = KIT.model_copy(update={"site": KIT.site.model_copy(update={"latitude_deg": 66.0})})
    with pytest.raises(AxletreeError, match="does not sink"):
        listed(north, date(2026, 6, 21))


# ---------------------------------------------------------------- the year


def year(name: str, kit: Kit = KIT, first: date = date(2026, 1, 1), nights: int = 365) -> YearOf:
    return best_nights(
        kit, observer_of(kit.site), find(name), first, first + timedelta(days=nights - 1), FLAT
    )


def test_hours_above_the_limit_against_skyfield() -> None:
    """Hours that M13 stands above 15 degrees with the Sun below -8, skyfield and DE421, at 5
    nights; ours come in steps of 20 minutes at each end of the night and of the window."""
    with warnings.catch_warnings():  # its Earth rotation table has run out: 0.2 s of time
        warnings.simplefilter("ignore", RuntimeWarning)
        loader = Loader(get_skyfield_data_path())
    kernel, scale = loader("de421.bsp"), loader.timescale(builtin=True)
    earth, sun = kernel["earth"], kernel["sun"]
    site = earth + wgs84.latlon(KIT.site.latitude_deg, KIT.site.longitude_deg, 292.0)
    m13 = find("M13")
    star = Star(ra_hours=(m13.ra_deg or 0.0) / 15.0, dec_degrees=m13.dec_deg)
    # As bright as to show whenever it is up, so that only its height counts.
    bright = SkyObject("Lamp", "star", m13.ra_deg, m13.dec_deg, magnitude_v=2.0)
    first = date(2026, 1, 10)
    ours = best_nights(KIT, observer_of(KIT.site), bright, first, first + timedelta(days=320), FLAT)
    for offset in (0, 80, 160, 240, 320):
        noon = datetime.combine(
            first + timedelta(days=offset), datetime.min.time(), KIT.site.zone
        ) + timedelta(hours=12)
        begin = scale.from_datetime(noon)
        times = scale.tt_jd(begin.tt + np.arange(0.0, 1.0, 1.0 / 1440.0))
        dark = site.at(times).observe(sun).apparent().altaz()[0].degrees < -8.0
        seen = site.at(times).observe(star).apparent().altaz("standard")[0].degrees > 15.0
        hours = float((dark & seen).sum()) / 60.0
        assert ours.nights[offset].night_h == pytest.approx(hours, abs=0.7), offset


@pytest.mark.parametrize(("latitude_deg", "sun_deg"), [(60.0, 5.0), (64.0, 1.0)])
def test_in_light_nights_an_evening_is_that_of_the_plan(
    latitude_deg: float, sun_deg: float
) -> None:
    """In June no pole star comes out from 60 degrees on (the Sun sinks by 90 - latitude - 23.4
    degrees): nothing waits for it, and a lamp near the zenith shows as long as the plan lasts."""
    site = KIT.site.model_copy(
        update={
            "latitude_deg": latitude_deg,
            "skyline": KIT.site.skyline.model_copy(update={"points": ()}),
        }
    )
    kit = changed(start=None, stop=None, bedtime=None, hours=2.0).model_copy(update={"site": site})
    observer, day = observer_of(site), date(2026, 6, 14)
    lamp = SkyObject("Lamp", "star", 270.0, latitude_deg, magnitude_v=-1.0)
    found = best_nights(kit, observer, lamp, day, day + timedelta(days=12), FLAT)
    session = prepare(kit, observer, EveningRequest(day, datetime(2026, 6, 1, tzinfo=UTC))).session
    assert session is not None
    assert not session.by_star
    assert 90.0 - latitude_deg - 23.4 >= sun_deg
    assert [night.evening_h for night in found.nights] == pytest.approx(
        [session.hours] * len(found.nights), abs=0.5
    )


def test_a_planet_is_best_around_its_opposition() -> None:
    """Fact of the almanacs: Jupiter's opposition of 10 January 2026; near it the planet is up all
    night, and half a year later it is lost in the Sun."""
    found = year("Jupiter")
    hours = [night.night_h for night in found.nights]
    assert int(np.argmax(hours)) < 45
    assert max(hours[200:215]) == 0.0


def test_the_far_south_never_shows_in_the_north() -> None:
    found = year("NGC 104", nights=365)
    assert found.seasons == ()
    assert found.best(5) == []
    assert all(night.score == 0.0 for night in found.nights)


def test_the_moon_spoils_galaxies() -> None:
    """Full Moon 2 April 2026 (S14), new Moon 17 April (S13): M81 shows less in moonlight,
    M51, whose light is spread, not at all."""
    found = {night.date: night for night in year("M81", nights=150).nights}
    full, new = found[date(2026, 4, 1)], found[date(2026, 4, 16)]
    assert (full.moon, new.moon) == (True, False)
    assert new.margin_mag > full.margin_mag + 0.3
    assert new.score > full.score
    spread = {night.date: night for night in year("M51", nights=150).nights}
    assert spread[full.date].best is None
    assert spread[new.date].best is not None


def test_best_nights_are_apart_and_sorted() -> None:
    found = year("M42")
    best = found.best(6)
    scores = [night.score for night in best]
    assert scores == sorted(scores, reverse=True)
    days = sorted(night.date for night in best)
    assert all((b - a).days > 2 for a, b in pairwise(days))
    # Orion is a winter constellation: nothing in June.
    assert all(night.evening_h == 0.0 for night in found.nights if night.date.month == 6)


@pytest.mark.parametrize(
    ("name", "nights", "words"), [("Sun", 10, "Sun is no stop"), ("M13", 801, "801 nights")]
)
def test_year_refuses(name: str, nights: int, words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        year(name, nights=nights)


# ---------------------------------------------------------------- the command


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """run(*words): status, answer and complaint of `axletree objects`."""

    def made(*words: str) -> tuple[int, str, str]:
        status = main(["objects", *words])
        return status, *capsys.readouterr()

    return made


def test_command_text_and_json(run: Run) -> None:
    status, text, err = run("--date", "2026-12-05", "--limit", "3")
    assert (status, err) == (0, "")
    assert max(len(line) for line in text.splitlines()) <= 80
    data = json.loads(run("--date", "2026-12-05", "--limit", "3", "--json")[1])
    assert len(data["objects"]) == 3
    row = data["objects"][0]
    assert {"margin_mag", "altitude_deg", "eyepiece", "magnification", "why"} <= set(row)
    assert row["name"] in text


def test_command_best_nights(run: Run) -> None:
    words = ("--best-nights", "M42", "--date", "2026-10-01", "--until", "2026-12-31", "--json")
    status, out, err = run(*words)
    assert (status, err) == (0, "")
    data = json.loads(out)
    assert len(data["nights"]) == 92
    assert data["best_nights"][0]["score"] == max(n["score"] for n in data["nights"])


@pytest.mark.parametrize(
    "words",
    [
        ("--kind", "dragons"), ("--theme", "loud"), ("--limit", "0"), ("--date", "2060-01-01"),
        ("--best-nights", "Nobody"), ("--own", "/no/such.csv"), ("--until", "2027-01-01"),
        ("--at", "2026-12-05T20:00", "--date", "2026-12-05"),
    ],
)  # fmt: skip
def test_command_refuses_in_one_line(words: tuple[str, ...], run: Run) -> None:
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err


def test_command_with_a_broken_own_list(tmp_path: Path, run: Run) -> None:
    file = tmp_path / "mine.csv"
    file.write_text("name,ra_h,dec_deg,magnitude\nGood star,1.0,40.0,6.0\nBad,99,1,1\n")
    status, out, err = run("--own", str(file), "--kind", "star", "--date", "2026-12-05")
    assert status == 0, err
    assert "Good star" in out
    assert "line 3, ra_h" in out.replace("\n  ", " ")
    status, _, err = run("--own", str(file), "--whole-list", "--date", "2026-12-05")
    assert status == 2
    assert "line 3" in err


def test_nothing_near_the_sun_is_listed_while_it_is_up() -> None:
    """By day an unfiltered tube stays 30 degrees from the Sun: Mercury at noon of 2026-12-05 does
    not, Venus does (separations by skyfield and DE421). In the evening nearness does not count."""
    noon = datetime(2026, 12, 5, 12, tzinfo=UTC)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        loader = Loader(get_skyfield_data_path())
        kernel, when = loader("de421.bsp"), loader.timescale(builtin=True).from_datetime(noon)
    site = kernel["earth"] + wgs84.latlon(KIT.site.latitude_deg, KIT.site.longitude_deg)
    sun, mercury, venus = (
        site.at(when).observe(kernel[n]).apparent() for n in ("sun", "mercury", "venus")
    )
    assert mercury.separation_from(sun).degrees < KIT.habits.sun_distance_deg
    assert venus.separation_from(sun).degrees > KIT.habits.sun_distance_deg
    found = names(listed(at=Instants.from_datetimes([noon]), kinds=kinds_named(["planets"])))
    assert "Venus" in found
    assert "Mercury" not in found
    free = changed(sun_distance_deg=0.0)
    assert "Mercury" in names(
        listed(free, at=Instants.from_datetimes([noon]), kinds=kinds_named(["planets"]))
    )


def test_a_list_of_dusk_waits_for_each_kinds_darkness() -> None:
    """Doubles from the Sun 8 degrees down on, nebulae and galaxies from 15 (common practice, no
    source): of a dusk that reaches 9 and of the dark after it, only the dark has nebulae."""
    dusk, later = (
        datetime(2026, 12, 5, h, m, tzinfo=KIT.site.zone) for h, m in ((17, 58), (19, 30))
    )
    at = Instants.from_datetimes([dusk, later])
    sun = -sky_state(KIT, observer_of(KIT.site), at).sun_altitude_deg
    assert 8.0 < sun[0] < 11.0
    assert sun[1] > 18.0
    shows = {row.target.name: row.shows.tolist() for row in listed(at=at, limit=60).rows}
    soft = [shows[name] for name in ("M31", "M57", "NGC 7662", "M15") if name in shows]
    assert len(soft) >= 3
    assert all(one == [False, True] for one in soft)
    assert shows["Albireo"][0]
