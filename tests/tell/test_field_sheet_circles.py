"""The phone's hour circle is the one that was just set on the stop's star, as the clock runs.

By the definition of hour angle: of an object it grows with the sidereal time, 1.0027 seconds a
second; a circle that turns with the sky stays as it was set.
"""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest
from browsers import opened
from nights import DAY, MADE_AT, kit_of
from playwright.sync_api import Browser

from axletree.axis.model import unmeasured
from axletree.axis.voids import Moved, void
from axletree.evening.sheet.plan import EveningRequest, plan_whole
from axletree.evening.sheet.tables import night_tables
from axletree.kit.kit import Kit, demo_text
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.field_sheet.field_sheet import field_sheet

pytestmark = pytest.mark.browser


def kit_with(circle: str) -> Kit:
    kit = kit_of("courtyard")
    circles = kit.mount.circles.model_copy(update={"hour_circle": circle})
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"circles": circles})})


@pytest.mark.parametrize(("circle", "grows"), [("slipped", 1.0027), ("driven", 0.0)])
def test_a_circle_that_nobody_knew_reads_as_it_was_set(
    browser: Browser, tmp_path: Path, circle: str, grows: float
) -> None:
    kit = kit_with(circle)
    lost = void(unmeasured(10.0, 10.0), Moved.HOUR_CIRCLE, MADE_AT)
    made = plan_whole(
        kit, observer_of(kit.site),
        EveningRequest(DAY, made_at=MADE_AT, effort="quick", minutes_per_stop=40, pointing=lost),
    )  # fmt: skip
    file = tmp_path / "sheet.html"
    content = field_sheet(
        evening_document(made.evening), night_tables(kit, observer_of(kit.site), made),
        made.ground.table, kit_toml=demo_text("courtyard"),
    )  # fmt: skip
    file.write_bytes(content)
    stop = made.evening.stops[0]
    assert stop.set_on is not None
    later = timedelta(minutes=20)
    with opened(browser, file, stop.begin + later) as sheet:
        shown = re.search(r"hour circle\s+([+−])(\d+)h (\d\d)m\s+± (\d+)", sheet.words())
    assert shown is not None
    sign, hours, minutes, error = shown.groups()
    found_min = (-1 if sign == "−" else 1) * (int(hours) * 60 + int(minutes))
    expected = stop.set_on.object_reading_h * 60.0 + grows * 20.0
    assert found_min == pytest.approx(expected, abs=1.0)
    assert int(error) == pytest.approx(stop.set_on.sigma_min, abs=0.6)


def test_the_circle_of_the_side_that_was_not_planned_is_set_on_a_star_of_that_side(
    browser: Browser, tmp_path: Path
) -> None:
    """A circle that is set on a star where the tube is shows the object's hour angle on either
    side, by its definition; the two minutes are what air and a reading rounded to a minute take."""
    kit = kit_with("slipped")
    lost = void(unmeasured(10.0, 10.0), Moved.HOUR_CIRCLE, MADE_AT)
    observer = observer_of(kit.site)
    made = plan_whole(kit, observer, EveningRequest(DAY, made_at=MADE_AT, pointing=lost))
    tables = night_tables(kit, observer, made)
    stop, other = next(
        (stop, table.other)
        for stop, table in zip(made.evening.stops, tables.objects, strict=False)
        if table.other is not None and table.other.told.at == stop.begin
    )
    assert other.side != stop.chosen.side
    file = tmp_path / "sheet.html"
    evening = evening_document(made.evening)
    text = demo_text("courtyard")
    file.write_bytes(field_sheet(evening, tables, made.ground.table, kit_toml=text))
    with opened(browser, file, stop.begin + timedelta(minutes=4)) as sheet:
        changed = "(a, key) => { const s = a.run.otherSide(a.field.state, a.field.now(), key);"
        sheet.axletree(f"{changed} a.field.set(s.state); }}", stop.catalogue_id)
        words = sheet.words()
        told_s = sheet.axletree(
            "a => { const t = a.field.now(), r = a.run.at(a.field.state, t).item.row;"
            " return r.start - t > 300 ? r.start : t; }"
        )
    assert re.search(rf"tube\s+{other.side}", words, re.IGNORECASE)
    shown = re.search(r"hour circle(?: at \d+:\d\d)?\s+([+−])(\d+)h (\d\d)m\s+± (\d+)", words)
    assert shown is not None, words
    sign, hours, minutes, error = shown.groups()
    found_min = (-1 if sign == "−" else 1) * (int(hours) * 60 + int(minutes))
    passed_min = (told_s - stop.begin.timestamp()) / 60.0
    assert passed_min >= 3.9
    assert abs(found_min - stop.start.hour_angle_h * 60.0 - passed_min) < 2.0
    assert int(error) == pytest.approx(other.told.sigma_min, abs=0.6)
    assert f"on {other.told.star} at" in words
