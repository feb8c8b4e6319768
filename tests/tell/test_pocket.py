"""The page for the pocket: one page on either paper for some twenty stops, all of them on it."""

from __future__ import annotations

import io
from datetime import UTC, date, datetime
from functools import cache
from zoneinfo import ZoneInfo

import pytest
from nights import planned_of
from pypdf import PdfReader

from axletree.evening.sheet.plan import EveningRequest
from axletree.kit.kit import demo_kit
from axletree.stages.night.evening import evening, pointing_of_evening
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening
from axletree.tell.paper.pocket import pocket_pdf
from axletree.tell.paper.typeset import Paper
from axletree.tell.shared.words import clock

NIGHT = date(2026, 12, 5)


@cache
def planned(name: str, minutes: float | None) -> Evening:
    if minutes is None:
        return evening_document(planned_of(name).evening)
    kit = demo_kit(name)  # with as many stops as fit
    habits = kit.habits.model_copy(update={"most_stops": 60, "visitors": 0})
    kit = kit.model_copy(update={"habits": habits})
    request = EveningRequest(
        NIGHT, made_at=datetime(2026, 12, 1, tzinfo=UTC), minutes_per_stop=minutes, effort="quick",
        pointing=pointing_of_evening(kit, None, NIGHT),
    )  # fmt: skip
    return evening_document(evening(kit, request))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(
    ("name", "minutes"), [("courtyard", None), ("paddock", None), ("paddock", 5.0)]
)
def test_one_page_holds_every_stop(name: str, minutes: float | None, paper: Paper) -> None:
    document = planned(name, minutes)
    assert len(document.stops) > (15 if minutes else 5)
    pages = PdfReader(io.BytesIO(pocket_pdf(document, paper))).pages
    assert len(pages) == 1
    text = " ".join(pages[0].extract_text().split())
    for stop in document.stops:
        assert clock(stop.begin, ZoneInfo(document.place.time_zone)) in text
        assert stop.view.eyepiece in text
    assert "Plan B." in text


def test_the_same_document_gives_the_same_bytes() -> None:
    document = planned("courtyard", None)
    assert pocket_pdf(document) == pocket_pdf(document)


def test_thin_cloud_leaves_no_glow() -> None:
    """Common practice, no source: stars, planets and the Moon through thin cloud, no nebulae."""
    from axletree.tell.evening.notes.plan_b_text import plan_b_words

    words = plan_b_words(planned("paddock", None))
    kinds = {stop.name: stop.kind for stop in planned("paddock", None).stops}
    assert any(name in words for name in kinds)
    assert not any(name in words for name, kind in kinds.items() if "nebula" in kind)


def test_what_is_special_tonight_stands_at_the_head() -> None:
    evening = planned("courtyard", None)
    words = "Tonight: partial eclipse of the Moon, greatest 00:13."
    special = evening.model_copy(update={"tonight": words})
    [page] = PdfReader(io.BytesIO(pocket_pdf(special))).pages
    assert words in " ".join(page.extract_text().split())
    assert "Tonight" not in PdfReader(io.BytesIO(pocket_pdf(evening))).pages[0].extract_text()
