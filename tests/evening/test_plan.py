"""The main job: kit and date in, one document out, and every delivery drawn from it."""

from __future__ import annotations

import io
import json
import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from pypdf import PdfReader

from axletree.evening.search import quick
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.kit.parts.tube import Eyepiece
from axletree.mount.room.table import room_table
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening, evening_json, json_schema, read_evening
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.paper import evening_pdf
from axletree.tell.paper.pictures import stage_pictures, tape_pictures
from axletree.tell.paper.text import sheet_of

MADE = datetime(2026, 11, 25, 12, tzinfo=UTC)
SCHEMA = Path(__file__).parents[2] / "docs" / "evening.schema.json"


def plan(kit: Kit, day: date, **options) -> Evening:
    return evening_document(
        plan_evening(kit, observer_of(kit.site), EveningRequest(day, made_at=MADE, **options))
    )


def changed(name: str, *swaps: tuple[str, str]) -> Kit:
    text = demo_text(name)
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit


@pytest.fixture(scope="module", params=["courtyard", "paddock"])
def evening(request: pytest.FixtureRequest) -> Evening:
    return plan(demo_kit(request.param), date(2026, 12, 5))


def test_times_are_in_order_and_stops_do_not_overlap(evening: Evening) -> None:
    begins = [stage.begin for stage in evening.stages]
    assert begins == sorted(begins)
    assert {s.name for s in evening.stages} == {
        "arrive", "spot", "level", "north", "balance", "finder", "pole", "check", "cool",
    }  # fmt: skip
    assert len(evening.stops) >= 5
    for one, two in zip(evening.stops, evening.stops[1:], strict=False):
        assert one.end <= two.begin
    for stop in evening.stops:
        assert stop.end - stop.begin >= timedelta(seconds=stop.queue_s - 1)


def test_no_stop_outlasts_its_room_or_sinks_into_the_skyline(evening: Evening) -> None:
    kit = demo_kit("courtyard" if evening.place.elevated_pole == "north" else "paddock")
    points = sorted(kit.site.skyline.points)
    azimuths = [points[-1][0] - 360, *(p[0] for p in points), points[0][0] + 360]
    altitudes = [points[-1][1], *(p[1] for p in points), points[0][1]]
    for stop in evening.stops:
        if stop.chosen.room_ends is not None:
            assert stop.end <= stop.chosen.room_ends + timedelta(seconds=30), stop.name
        for pose in (stop.start, stop.finish):
            skyline = float(np.interp(pose.azimuth_deg, azimuths, altitudes))
            lowest = max(skyline, kit.habits.lowest_altitude_deg)
            assert pose.altitude_deg >= lowest - 0.02, stop.name


def test_nothing_is_shown_twice(evening: Evening) -> None:
    ids = [s.catalogue_id for s in evening.stops]
    assert len(ids) == len(set(ids))


def test_json_follows_the_published_schema_and_reads_back(evening: Evening) -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert schema == json_schema(), "run tools/write_schema.py"
    jsonschema.Draft202012Validator.check_schema(schema)
    text = evening_json(evening)
    jsonschema.validate(
        json.loads(text), schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )
    assert read_evening(text) == evening
    assert "NaN" not in text
    assert "Infinity" not in text
    broken = json.loads(text)
    broken["stops"][0]["chosen"]["side"] = "up"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(broken, schema)


def test_text_fits_80_columns_and_says_nothing_odd(evening: Evening) -> None:
    text = evening_text(evening)
    assert max(len(line) for line in text.splitlines()) <= 80
    for word in ("nan", "None", "inf"):
        assert not re.search(rf"\b{word}\b", text)
    for stop in evening.stops:
        assert stop.name in text
    assert "Weights on before the tube" in text
    assert "Sun" in text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_paper_holds_what_the_json_holds(evening: Evening, paper) -> None:
    kit = demo_kit("courtyard" if evening.place.elevated_pole == "north" else "paddock")
    pictures = stage_pictures(kit, observer_of(kit.site), evening)
    keys = [one["key"] for one in evening.measure_first]
    tapes = tape_pictures(kit, room_table(kit, of_few=True), evening)
    assert list(tapes) == keys
    made = evening_pdf(evening, pictures, tape_drawings=tapes, paper=paper)
    reader = PdfReader(io.BytesIO(made))
    assert 1 <= len(reader.pages) <= 4
    width = float(reader.pages[0].mediabox.width)
    assert width == pytest.approx(595.28 if paper == "a4" else 612.0, abs=0.1)
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for row in sheet_of(evening)["stops"]:
        assert row["begin"] in text
        assert row["name"] in text
        for line in row["rows"]:
            assert line["value"].split(";")[0].split(",")[0] in text
    assert ("Measure first, by daylight" in text) == bool(keys)
    for row in sheet_of(evening)["measure"]:
        assert row["name"] in text
    # PDF/UA-1 (ISO 14289-1): tagged, titled, with a language; every font embedded.
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"]
    assert reader.metadata is not None
    assert reader.metadata.title == evening.place.name
    fonts = 0
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font["/DescendantFonts"][0]["/FontDescriptor"]
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor.keys())
            fonts += 1
    assert fonts


@pytest.mark.usefixtures("afresh")
def test_the_same_evening_is_the_same_paper() -> None:
    kit = demo_kit()
    one = plan(kit, date(2027, 3, 6))
    quick.solve_quickly.cache_clear()
    two = plan(kit, date(2027, 3, 6))
    assert one == two
    assert evening_pdf(one) == evening_pdf(two)


def test_must_see_and_exclude_are_kept() -> None:
    kit = changed(
        "courtyard", ("hours = 2.5", 'hours = 2.5\nmust_see = ["M34"]\nexclude = ["M45"]')
    )
    made = plan(kit, date(2026, 12, 5))
    ids = [s.catalogue_id for s in made.stops]
    assert find("M34").catalogue_id in ids
    assert find("M45").catalogue_id not in ids
    assert next(s for s in made.stops if s.catalogue_id == find("M34").catalogue_id).promised


def test_a_must_see_waits_for_its_darkness_or_is_refused_with_the_reason() -> None:
    """M57 was put at 17:34 into bright twilight; M51 at 38 degrees north is low in December."""
    wanted = 'must_see = ["M57", "NGC 891"]'
    made = plan(changed("courtyard", ("hours = 2.5", f"hours = 2.5\n{wanted}")), date(2026, 12, 12))
    ring = next(s for s in made.stops if s.name == "M57")
    assert ring.promised
    assert made.darkness.astronomical_dusk is not None
    assert ring.begin > made.darkness.sunset + timedelta(minutes=55)
    lost = next(g for g in made.given_up if g.name == "NGC 891")
    assert lost.reason_code is not None
    assert lost.reason_code.startswith("too faint")
    assert "promised, but it can't be kept: too faint" in lost.reason


def test_a_must_see_that_is_no_object_is_refused_by_its_key() -> None:
    kit = changed("courtyard", ("hours = 2.5", 'hours = 2.5\nmust_see = ["Vegga"]'))
    with pytest.raises(AxletreeError, match="must_see"):
        plan(kit, date(2026, 12, 5))
    kit = changed("courtyard", ("hours = 2.5", 'hours = 2.5\nmust_see = ["Sun"]'))
    with pytest.raises(AxletreeError, match="unfiltered"):
        plan(kit, date(2026, 12, 5))


@pytest.mark.parametrize(
    ("latitude", "day", "stops"),
    [(78.2, date(2026, 6, 21), False), (78.2, date(2026, 12, 21), True),
     (0.0, date(2026, 3, 20), True), (-77.8, date(2026, 12, 21), False),
     (66.0, date(2026, 6, 21), False)],
)  # fmt: skip
def test_hard_latitudes_give_a_clear_answer(latitude: float, day: date, stops: bool) -> None:
    kit = changed(
        "courtyard",
        ("latitude_deg = 38.5712", f"latitude_deg = {latitude}"),
        ("longitude_deg = -7.9093", "longitude_deg = 15.6"),
        ('time_zone = "Europe/Lisbon"', 'time_zone = "Europe/Oslo"'),
    )
    made = plan(kit, day)
    assert bool(made.stops) == stops
    if not stops:
        assert "Sun does not sink" in made.order.words
        assert not made.stages
        assert any("another night" in note for note in made.notes)
    assert max(len(line) for line in evening_text(made).splitlines()) <= 80
    assert evening_pdf(made)


def test_minutes_per_stop_and_daylight_saving_night() -> None:
    # European summer time ends on 2026-10-25 at 02:00 local: elapsed time must count.
    kit = changed("courtyard", ("hours = 2.5", "hours = 10"), ("bedtime = 22:30:00", ""))
    made = plan(kit, date(2026, 10, 24), minutes_per_stop=20)
    for stop in made.stops:
        assert (stop.end.timestamp() - stop.begin.timestamp()) == pytest.approx(1200, abs=2)
    stamps = [s.begin.timestamp() for s in made.stops]
    assert stamps == sorted(stamps)


def test_a_day_outside_the_kernel_is_refused() -> None:
    with pytest.raises(AxletreeError, match="2020 to 2049"):
        plan(demo_kit(), date(2051, 1, 1))


@pytest.mark.parametrize("before_min", [45, 10])
def test_break_that_begins_before_the_first_stop_is_kept_free(before_min: int) -> None:
    usual = plan(demo_kit("courtyard"), date(2026, 12, 5))
    first = usual.stops[0].begin
    begin = (first - timedelta(minutes=before_min)).replace(second=0)
    pause = f"[[habits.break]]\nat = {begin:%H:%M}:00\nminutes = 60\n"
    kit, problems = check_text(demo_text("courtyard") + "\n" + pause)
    assert kit is not None, problems
    stops = plan(kit, date(2026, 12, 5)).stops
    assert len(stops) >= 4
    end = begin + timedelta(minutes=60)
    assert stops[0].begin >= end > first


def moonlit(*fields: tuple[str, float, float]) -> Evening:
    """An evening with a first-quarter Moon, through eyepieces of (label, mm, field of view)."""
    made = [
        Eyepiece(name=label, focal_length_mm=focal, apparent_field_deg=field)
        for label, focal, field in fields
    ]
    kit = demo_kit("courtyard").model_copy(update={"eyepieces": tuple(made)})
    habits = kit.habits.model_copy(update={"must_see": ("Moon",)})
    return plan(kit.model_copy(update={"habits": habits}), date(2026, 12, 18))


def test_the_moon_gets_an_eyepiece_that_holds_it() -> None:
    """750 mm of focal length: 8.2 mm of 50° shows 33′ at 91 times, and the Moon takes 31′."""
    evening = moonlit(("wide", 25.0, 52.0), ("narrow", 8.24, 50.0))
    moon = next(s for s in evening.stops if s.kind == "moon")
    assert moon.size_arcmin is not None
    assert 29.3 < moon.size_arcmin < 34.2  # apogee and perigee
    assert moon.view.eyepiece == "wide"
    assert moon.view.true_field_deg * 60.0 > 1.1 * moon.size_arcmin
    assert moon.nudge.every_s is not None
    assert moon.nudge.every_s > 60.0
    assert not [c for c in moon.cautions if "whole Moon" in c]


def test_where_no_eyepiece_holds_the_moon_the_widest_is_taken_and_it_is_said() -> None:
    evening = moonlit(("narrow", 7.0, 50.0), ("narrowest", 4.0, 50.0))
    moon = next(s for s in evening.stops if s.kind == "moon")
    assert moon.view.eyepiece == "narrow"
    assert [c for c in moon.cautions if "whole Moon" in c]


def test_a_small_turn_of_the_knob_is_not_written_as_none() -> None:
    evening = moonlit(("narrow", 7.0, 50.0))
    stop = next(s for s in evening.stops if 0.0 < s.nudge.knob_turns < 0.1)
    changed = stop.model_copy(
        update={"nudge": stop.nudge.model_copy(update={"knob_turns": 0.004, "every_s": 4.0})}
    )
    text = evening_text(evening.model_copy(update={"stops": (changed,)}))
    assert "Nudge every 4 s: 0.004 turn" in text
