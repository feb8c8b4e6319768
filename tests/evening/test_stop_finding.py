"""Every stop of the evening tells how its object is found, with its chance."""

from __future__ import annotations

import io
import json
import math
import re
from datetime import UTC, date, datetime

import jsonschema
import pytest
from pypdf import PdfReader

from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.plan import EveningRequest
from axletree.find.finding import FindBy
from axletree.find.start_star import StartStar
from axletree.find.steps import Steps
from axletree.kit.kit import demo_kit
from axletree.stages.night.evening import evening
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import evening_json, json_schema, read_evening
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.paper import FIELD_MM, evening_pdf
from axletree.tell.paper.pictures import stage_pictures, stop_fields
from axletree.tell.paper.typeset import Paper

MADE = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture(scope="module", params=["courtyard", "paddock"])
def planned(request: pytest.FixtureRequest) -> EveningAnswer:
    asked = EveningRequest(date(2026, 12, 5), made_at=MADE, effort="quick")
    return evening(demo_kit(request.param), asked)


def test_each_stop_has_a_way_and_its_chance(planned: EveningAnswer) -> None:
    assert len(planned.stops) >= 5
    for stop in planned.stops:
        found = stop.finding
        assert found is not None
        assert found.first is not None
        assert found.chance is not None
        assert 0.0 < found.chance <= 1.0
        if found.first is FindBy.STEPS:
            assert isinstance(found.start, StartStar)
            assert isinstance(found.steps, Steps)
            assert found.chance == found.steps.by_turns.eyepiece
        assert found.views.finder is not None
        assert found.views.finder.place == pytest.approx((0.0, 0.0), abs=0.02)
        shows = found.views.planned or found.views.weakest
        assert shows.instrument.label == stop.view.eyepiece
        # The stop's own line about the picture and the view's drawing are of one pose.
        off = abs((shows.turned.north_deg - stop.view.north_deg + 180.0) % 360.0 - 180.0)
        assert off < 1.0


def test_the_turns_to_the_ring_nebula_are_those_of_its_printed_place() -> None:
    """Vega at 18h 36m 56s, M57 at 18h 53m 35s (J2000.0, as catalogues print them): 4.16° of hour
    angle apart, to the east; 144 teeth make 2.5° a turn."""
    kit = demo_kit()
    noon = datetime(2026, 10, 10, 12, tzinfo=UTC)
    asked = EveningRequest(noon.date(), made_at=noon, effort="quick")
    ring = next(s for s in evening(kit, asked).stops if s.name == "M57")
    found = ring.finding
    assert found is not None
    assert isinstance(found.steps, Steps)
    assert isinstance(found.start, StartStar)
    assert found.start.names[0] == "Vega"
    sky_deg = 15.041 / 3600.0 * found.steps.seconds
    assert found.steps.hour.degrees - sky_deg == pytest.approx(-4.16, abs=0.05)
    assert abs(found.steps.hour.turns or 0.0) == pytest.approx((4.16 - sky_deg) / 2.5, abs=0.03)


def test_the_document_holds_the_way_and_reads_back(planned: EveningAnswer) -> None:
    document = evening_document(planned)
    text = evening_json(document)
    assert read_evening(text) == document
    jsonschema.validate(json.loads(text), json_schema())
    for stop in document.stops:
        assert stop.finding is not None
        assert next(v["instrument"] for v in stop.finding.views) == "finder"
        assert stop.finding.views[1]["label"] == stop.finding.eyepiece
        for view in stop.finding.views:
            assert all(x * x + y * y < 1.01 for x, y, _ in view["stars"])


def test_a_sheet_without_ways_still_reads(planned: EveningAnswer) -> None:
    raw = json.loads(evening_json(evening_document(planned)))
    for stop in raw["stops"]:
        del stop["finding"]
    del raw["ways_words"]
    older = read_evening(json.dumps(raw))
    assert {stop.finding for stop in older.stops} == {None}
    assert "Find it" not in evening_text(older)


def test_the_run_sheet_tells_the_way_and_both_eyepieces(planned: EveningAnswer) -> None:
    document = evening_document(planned)
    text = re.sub(r"\s+", " ", evening_text(document))
    assert text.count("Find it: ") == len(document.stops)
    assert document.ways_words in text
    for stop in document.stops:
        assert stop.finding is not None
        told = f"Find it: {stop.finding.words}; {stop.finding.eyepieces}."
        assert re.sub(r"\s+", " ", told) in text
        assert stop.finding.eyepiece in told
        assert stop.view.eyepiece in told


def test_the_paper_draws_what_the_finder_shows_large_enough(planned: EveningAnswer) -> None:
    """Fourteen stops on four pages of either paper, twenty on five. Type of 8 pt and more; a dot
    of 0.3 mm is 1.7 arcminutes at arm's length, what a good eye tells by day."""
    document, fields = evening_document(planned), stop_fields(planned.stops)
    assert set(fields) == {stop.number for stop in document.stops}
    most = 4 if len(document.stops) <= 14 else 5
    pictures = stage_pictures(planned.kit, planned.observer, document)
    papers: tuple[Paper, ...] = ("letter", "a4")
    for paper in papers:
        pdf = evening_pdf(document, pictures, stop_fields=fields, paper=paper)
        made = PdfReader(io.BytesIO(pdf))
        assert len(made.pages) <= most
        # No page is left to what is to be measured first, which comes last.
        last = made.pages[-1].extract_text()
        assert "Assumed" in last or "Circles" in last, paper
    text = " ".join(" ".join(page.extract_text() for page in made.pages).split())
    assert text.count("Find it") == len(document.stops) + 1  # and once what holds for all
    assert text.count("finder, 7°") == len(document.stops)
    printed_mm = FIELD_MM
    for svg in fields.values():
        mm = printed_mm / float(re.search(r'viewBox="0 0 (\d+)', svg)[1])  # type: ignore[index]
        sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)]
        assert sizes
        assert min(sizes) * mm / 25.4 * 72.0 >= 8.0
        radii = [float(r) for r in re.findall(r'<circle[^>]* r="([\d.]+)"', svg)]
        assert 2.0 * min(radii) * mm >= 0.3


def test_the_small_drawing_stands_as_the_view_does(planned: EveningAnswer) -> None:
    """The stroke at the rim where north is, and each star where the view has it."""
    fields = stop_fields(planned.stops)
    for stop in planned.stops:
        assert stop.finding is not None
        view = stop.finding.views.finder
        assert view is not None
        svg = fields[stop.number]
        line = re.search(r'<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"', svg)
        assert line is not None
        x1, y1, x2, y2 = (float(v) for v in line.groups())
        shown = math.degrees(math.atan2(x2 - x1, y1 - y2))
        off = abs((shown - view.turned.north_deg + 180.0) % 360.0 - 180.0)
        assert off < 0.5
        spots = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', svg)
        inner = [k for k in range(len(view.x)) if math.hypot(view.x[k], view.y[k]) < 0.85]
        for k in inner:
            at = 100.0 + 78.0 * view.x[k], 100.0 - 78.0 * view.y[k]
            assert min(math.hypot(float(x) - at[0], float(y) - at[1]) for x, y in spots) < 0.02
