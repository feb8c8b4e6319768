"""The handbook's pictures are what the program draws, and every page has one.

`tools/make_pictures.py` makes them again after a deliberate change.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

import make_pictures as pictures
import run_examples as examples
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import demo_kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.stages.target.follow import FollowRequest, follow
from axletree.stages.target.room import RoomRequest, room
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.drawing import evening_view
from axletree.tell.follow.drawing import follow_drawing
from axletree.tell.room.text import drawing_words
from axletree.tell.teach.drawing import latitude_view

DOCS = Path(__file__).parents[2] / "docs"
# What they show is chosen by points that only rank; there the heading counts.
CHOSEN = ("evening", "calendar")
SVG = "{http://www.w3.org/2000/svg}"


def words(svg: str) -> list[str]:
    """All texts of a drawing, in their order."""
    return ["".join(e.itertext()) for e in ET.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("name", pictures.NAMES)
def test_each_picture_is_what_the_program_draws(name: str) -> None:
    kept = (DOCS / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    made = pictures.picture(name)
    before, now = words(kept), words(made)
    if name in CHOSEN:
        assert before[0] == now[0]
        assert len(now) == pytest.approx(len(before), rel=0.3)
        return
    assert len(before) == len(now), "tools/make_pictures.py makes it again"
    differ = [(a, b) for a, b in zip(before, now, strict=True) if not examples.close(a, b)]
    assert not differ, "tools/make_pictures.py makes it again"
    shapes = [len(ET.fromstring(text).findall(".//*")) for text in (kept, made)]
    assert shapes[0] == pytest.approx(shapes[1], rel=0.02)


@pytest.mark.parametrize("name", pictures.NAMES)
def test_pictures_are_plain_small_and_named(name: str) -> None:
    text = (DOCS / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    root = ET.fromstring(text)
    assert root.find(f"{SVG}title") is not None
    assert "var(" not in text
    assert "href" not in text
    assert "<script" not in text
    assert len(text) < 200_000


def test_the_same_program_makes_the_same_picture() -> None:
    for name in ("level", "pole", "teach"):
        assert pictures.picture(name) == pictures.picture(name)


def test_every_page_shows_its_pictures_and_none_is_left_over() -> None:
    shown: set[str] = set()
    for file in DOCS.glob("*.md"):
        text = file.read_text(encoding="utf-8")
        found = re.findall(r"!\[([^\]]+)\]\(pictures/([a-z_]+)\.svg\)", text)
        assert all(len(alt) > 20 for alt, _ in found), f"{file.name}: a picture without words"
        shown |= {name for _, name in found}
        if file.stem in pictures.NAMES:
            assert file.stem in {name for _, name in found}, f"{file.name} doesn't show its own"
    assert shown == set(pictures.NAMES)
    assert {f.stem for f in (DOCS / "pictures").glob("*.svg")} == set(pictures.NAMES)


def report(kit_name: str, thing: str, at: str):  # type: ignore[no-untyped-def]
    kit = demo_kit(kit_name)
    return follow(kit, FollowRequest(find(thing), datetime.fromisoformat(at)))


def test_the_follow_drawing_says_what_the_command_says() -> None:
    found = report("courtyard", "Saturn", "2026-10-10T22:00+01:00")
    told = words(follow_drawing(found))
    for eyepiece in found.eyepieces:
        minutes, seconds = divmod(round(eyepiece.nudge_s), 60)
        assert (f"{minutes} min {seconds:02d} s" if minutes else f"{seconds} s") in told
        assert f"nudge: {eyepiece.knob_turn_deg:.0f}° of the knob" in told
    assert f"hour knob clockwise, one turn in {found.seconds_per_turn / 60:.0f} min" in told
    moon = words(follow_drawing(report("paddock", "Moon", "2026-10-20T22:00+13:00")))
    assert "larger than the field" in moon
    assert any("anticlockwise" in line for line in moon)
    still = replace(found.eyepieces[0], nudge_s=float("inf"), drift_time_s=float("inf"))
    pole = words(follow_drawing(replace(found, eyepieces=(still,), target=None)))
    assert "stays in the field" in pole
    assert "A star on the celestial equator" in pole


def test_the_evening_drawing_holds_every_stop_and_a_night_without_any() -> None:
    kit = demo_kit("paddock")
    made = datetime(2026, 6, 1, tzinfo=UTC)
    evening = evening_document(
        plan_evening(
            kit,
            observer_of(kit.site),
            EveningRequest(date(2026, 10, 10), made_at=made, effort="quick"),
        )
    )
    told = words(evening_view(evening))
    for stop in evening.stops:
        assert any(line.startswith(f"{stop.number}. {stop.name[:12]}") for line in told)
    assert sum(line.startswith(("east", "west")) for line in told) == len(evening.stops)
    none = evening.model_copy(update={"stops": (), "notes": ("no darkness",)})
    assert "no darkness" in words(evening_view(none))
    hostile = evening.stops[0].model_copy(update={"name": "<script>x"})
    drawn = evening_view(evening.model_copy(update={"stops": (hostile,)}))
    assert "<script>" not in drawn


def test_the_axis_stands_as_high_as_the_latitude_in_the_drawing() -> None:
    kit = demo_kit("courtyard")
    drawn = latitude_view([("here", build_rig(kit), align(38.5712))])
    assert words(drawn).count("38.6°") == 3


def test_the_room_is_dated_by_the_clock_of_its_place() -> None:
    at = datetime(2026, 10, 10, 20, 0, tzinfo=UTC)
    found = room(demo_kit("courtyard"), RoomRequest(at, objects=("Saturn",)))
    # Portugal's clocks are one hour ahead of UTC until the last Sunday of October: common practice.
    assert drawing_words(found).sub.endswith("; objects at 10 October 2026, 21:00")
