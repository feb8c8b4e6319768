"""A run sheet says what the sky has on its evening, and no Moon in the shadow is called full."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime, time

import pytest

from axletree.evening.sheet.plan import EveningRequest
from axletree.evening.special.of_kit import is_great, special_tonight
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import observer_of
from axletree.sky.special.kinds import FigureKind, SpecialKind
from axletree.stages.night.evening import EveningAnswer, evening
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import evening_json, read_evening
from axletree.tell.evening.text import evening_text
from axletree.tell.field_sheet.text import field_words
from axletree.tell.paper.text import sheet_of
from axletree.tell.special.text import SUN_CAUTION

NOON = datetime(2026, 1, 1, 12, tzinfo=UTC)


def ontario() -> Kit:
    kit = demo_kit("courtyard")
    place = {"latitude_deg": 44.3, "longitude_deg": -78.3, "time_zone": "America/Toronto"}
    return kit.model_copy(update={"site": kit.site.model_copy(update=place)})


def planned(kit: Kit, day: date) -> EveningAnswer:
    return evening(kit, EveningRequest(day, made_at=NOON))


@pytest.fixture(scope="module")
def eclipse() -> EveningAnswer:
    return planned(ontario(), date(2026, 8, 27))


def test_the_evening_of_the_eclipse_says_so(eclipse: EveningAnswer) -> None:
    # 28 August 2026, greatest 04:13 UT, partial 02:34 to 05:52 (NASA's table, from memory).
    text = evening_text(evening_document(eclipse))
    told = " ".join(text.split())
    assert "Tonight: partial eclipse of the Moon, greatest 00:13. This evening's" in told
    assert "hours end at 22:30, before that." in told
    assert "Moon 100 % lit (partly eclipsed 22:34 to 01:52)" in text
    assert "(full)" not in text


@pytest.fixture(scope="module")
def stayed() -> EveningAnswer:
    """The same evening for who stays up."""
    kit = ontario()
    late = kit.habits.model_copy(update={"hours": 5.0, "bedtime": time(2, 30)})
    return planned(kit.model_copy(update={"habits": late}), date(2026, 8, 27))


def test_the_moon_is_shown_about_the_deepest_of_its_eclipse(stayed: EveningAnswer) -> None:
    moon = next(stop for stop in stayed.stops if stop.catalogue_id == "moon")
    greatest = datetime(2026, 8, 28, 4, 13, tzinfo=UTC)
    assert abs((moon.begin - greatest).total_seconds()) < 30 * 60
    assert [night.kind for night in moon.special] == [SpecialKind.MOON_ECLIPSE_PARTIAL]
    assert moon.candidate.worth.tonight == 100.0
    document = evening_document(stayed)
    [told] = [stop for stop in document.stops if stop.catalogue_id == "moon"]
    assert told.tonight[0].startswith("Tonight: partial eclipse of the Moon, greatest 00:13.")
    assert told.eyepiece is not None
    assert "of its width in the Earth's shadow" in told.eyepiece["short"]
    assert not any("100 % lit" in words for words in told.eyepiece["words"])
    assert "before that" not in document.tonight
    assert read_evening(evening_json(document)) == document


def test_its_document_has_the_contacts_and_comes_back_the_same(eclipse: EveningAnswer) -> None:
    document = evening_document(eclipse)
    told = json.loads(evening_json(document))["special"]
    assert [one["kind"] for one in told] == ["moon_eclipse_partial"]
    assert [m["what"] for m in told[0]["moments"]] == [
        "penumbra_begins",
        "partial_begins",
        "greatest",
        "partial_ends",
        "penumbra_ends",
    ]
    assert all(m["error_s"] > 0.0 for m in told[0]["moments"])
    assert read_evening(evening_json(document)) == document


def test_an_ordinary_evening_says_nothing() -> None:
    document = evening_document(planned(demo_kit("courtyard"), date(2026, 12, 5)))
    assert document.special == ()
    assert document.tonight == ""
    assert "Tonight:" not in evening_text(document)


def test_the_day_of_the_suns_eclipse_has_the_whole_caution_wherever_it_is_told() -> None:
    answer = planned(demo_kit("courtyard"), date(2026, 8, 12))
    document = evening_document(answer)
    assert "Today: partial eclipse of the Sun, greatest 19:36." in document.tonight
    for words in (document.tonight, " ".join(document.notes), document.special[0]["caution"]):
        assert SUN_CAUTION in words
    assert SUN_CAUTION in " ".join(evening_text(document).split())
    told = replace(answer, special=())
    assert SUN_CAUTION not in " ".join(evening_text(evening_document(told)).split())
    assert SUN_CAUTION in str(field_words(document))
    assert SUN_CAUTION in str(sheet_of(document))
    assert document.stops
    assert all(stop.name != "Sun" for stop in document.stops)


def test_a_meeting_is_told_on_each_of_its_evenings() -> None:
    """Mars and Jupiter, closest on 16 November 2026, 1.2 degrees (almanacs, from memory)."""
    kit = demo_kit("courtyard")
    for day in (date(2026, 11, 14), date(2026, 11, 15), date(2026, 11, 16)):
        tonight = special_tonight(kit, observer_of(kit.site), day)
        meeting = next(n for n in tonight if n.bodies == ("mars", "jupiter"))
        assert meeting.kind is SpecialKind.MEETING
        assert meeting.day == date(2026, 11, 15)  # the night to the 16th
        assert is_great(meeting)
        apart = meeting.figure(FigureKind.SEPARATION_DEG)
        assert apart is not None
        assert apart.value == pytest.approx(1.2, abs=0.05)
