"""Each quantity is written in one way wherever it is told (docs/words.md, 'How quantities are
written'): commands, run sheet, paper, phone sheet, calendar file, both hemispheres."""

from __future__ import annotations

import contextlib
import io
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from nights import kit_of, planned_of, sheet_of
from pypdf import PdfReader

from axletree.cli import main
from axletree.sky.observer import observer_of
from axletree.tell.evening.calendar_file import evening_ics
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.paper import evening_pdf
from axletree.tell.paper.pictures import stage_pictures, stop_pictures
from axletree.tell.shared.words import bar
from notation import FORBIDDEN, wrong_in

KITS = ("courtyard", "paddock")
COMMANDS = {
    "where": "where Sirius --at {at}",
    "spot": "spot --date 2026-12-05",
    "level": "level --bubble 1.5 135",
    "north": "north --at {at}",
    "balance": "balance",
    "stand": "balance --stand",
    "pole": "pole --at {at}",
    "enough": "enough --at {at}",
    "point": "point {star} --at {at}",
    "room": "room {star} M42 --at {at}",
    "find": "find M42 --at {at}",
    "follow": "follow M42 --at {at}",
    "objects": "objects --date 2026-12-05",
    "begin": "log begin --logbook {folder}/book.sqlite --at {at}",
    "show": "log show 1 --logbook {folder}/book.sqlite",
}
STARS = {"courtyard": "Polaris", "paddock": "'σ Octantis'"}
AT = {"courtyard": "2026-12-05T22:00", "paddock": "2026-12-05T23:30"}


@cache
def paper(name: str) -> str:
    kit, planned = kit_of(name), planned_of(name)
    evening = evening_document(planned.evening)
    made = evening_pdf(
        evening,
        stage_pictures(kit, observer_of(kit.site), evening),
        stop_pictures(planned.ground.table, evening),
    )
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(made)).pages)


def field_page(name: str) -> str:
    """What the phone's sheet tells without its scripts."""
    page = sheet_of(name).decode()
    body = re.sub(r"(?s)<(script|style|head)\b.*?</\1>", " ", page)
    return re.sub(r"<[^>]+>", "\n", body)


def calendar(name: str) -> str:
    """The words of the calendar file; its moments are the format's own (RFC 5545)."""
    text = evening_ics(evening_document(planned_of(name).evening)).decode()
    rows = text.replace("\r\n ", "").splitlines()
    told = ("SUMMARY", "DESCRIPTION", "LOCATION", "X-WR-CALNAME", "NAME")
    return "\n".join(row.replace("\\n", " ") for row in rows if row.startswith(told))


SURFACES: dict[str, Callable[[str], str]] = {
    "run sheet": lambda name: evening_text(evening_document(planned_of(name).evening)),
    "paper": paper,
    "phone sheet": field_page,
    "calendar file": calendar,
}


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("surface", SURFACES)
def test_one_notation_in_what_is_delivered(surface: str, name: str) -> None:
    text = SURFACES[surface](name)
    assert len(text) > 1500
    assert wrong_in(surface, text) == []


@pytest.mark.parametrize("name", KITS)
def test_one_notation_in_what_commands_say(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    wrong = []
    for command, line in COMMANDS.items():
        given = line.format(at=AT[name], star=STARS[name].strip("'").replace(" ", "\0"),
                            folder=tmp_path).split()  # fmt: skip
        words = [word.replace("\0", " ") for word in given]
        if command != "show":
            words += ["--kit", name]
        told = io.StringIO()
        with contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
            status = main(words)
        assert status in (0, 1), told.getvalue()
        assert len(told.getvalue()) > 20
        wrong += wrong_in(command, told.getvalue())
    assert wrong == []


@pytest.mark.parametrize("name", FORBIDDEN)
def test_each_forbidden_notation_is_seen(name: str) -> None:
    _, example = FORBIDDEN[name]
    assert wrong_in("said", example) == [f"said: {name}: {example}"]
    fine = (
        "Saturday 10 October 2026, 21:00: just before 6 on the dial, −1.4 mag, 0.57 m up, 37.5′, "
        "6×30 mm, 125 times, 0.5° (±1.1°), +3h 38m ± 5 min, ±0.04°"
    )
    assert wrong_in("said", fine) == []


def test_no_error_is_printed_as_nothing() -> None:
    """Small uncertainties are rounded up rather than off (ISO/IEC Guide 98-3 (GUM) 2008, 7.2.6,
    from memory): the least that the places can show stands for what is smaller."""
    assert [bar(0.0004, 2), bar(0.0, 1), bar(0.2)] == ["0.01", "0.1", "1"]
    assert [bar(0.026, 2), bar(12.34, 1), bar(77.6)] == ["0.03", "12.3", "78"]
