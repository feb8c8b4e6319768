"""With every sentence of the words floor replaced, nothing changes but the words.

Each question is asked twice, in processes of their own: as the house speaks, and with other letters
in every module `tell/STAGE/text.py` or `..._text.py` (see `other_words`). Figures, lists, codes,
drawn lines and the planner's choices must stay, or a sentence has been read back as data.
"""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from typing import Any

import pytest

SCRIPT = Path(__file__).parents[1] / "other_words.py"
_spec = importlib.util.spec_from_file_location("other_words", SCRIPT)
assert _spec is not None
assert _spec.loader is not None
other_words = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(other_words)
strange = other_words.strange

AT = "2026-12-05T21:00"
CAMERA = ["--pixel-um", "3.8", "--width-px", "4144", "--height-px", "2822", "--guided"]
SHEETS = Path(__file__).parent / "sheets"
MEASURED_AT = ["--at", "2026-12-05T20:30"]


def measured(method: str, *names: str) -> list[str]:
    """A measurement of the axis from files beside this one, not noted anywhere."""
    return ["check", method, *(str(SHEETS / name) for name in names), "--no-notes", *MEASURED_AT]


COMMANDS = [
    measured("drift", "drift.csv"),
    measured("drift", "doubtful.csv"),
    measured("drift", "one.csv"),
    measured("readings", "set_anew.csv"),
    measured("readings", "misread.csv"),
    ["spot", "--date", "2026-12-05", "--spacing", "0.5"],
    ["spot", "--date", "2026-06-20", "--no-pole", "--view", "90-180:10", "--objects", "M13,Vega"],
    ["spot", "--date", "2026-12-05", "--spacing", "0.5", "--margin", "45"],
    ["where", "Saturn", "--at", "2026-12-05T20:30"],
    ["where", "Sun", "--at", "2026-12-05T12:30"],
    ["level", "--bubble", "1.5", "135"],
    ["level", "--bubble", "rim", "leg2", "--shorten"],
    ["level", "--incline", "0", "0.8", "--incline", "90", "-0.3"],
    ["balance"],
    ["balance", "--stand", "--tray", "2", "--now", "380"],
    ["balance", "--scale", "hour", "tube", "0.8kg", "300mm"],
    ["balance", "--scale", "declination", "left", "2N", "250mm"],
    ["follow", "--at", "2026-08-12T23:00"],
    ["follow", "Vega", "--at", "2026-08-12T23:00", "--compare"],
    ["follow", "Moon", "--at", "2026-12-20T21:00"],
    ["follow", "Sun", "--at", "2026-12-05T22:00"],
    ["north", "--at", "2026-12-05T11:00Z", "--landmark", "geo:38.6003,-7.9101;u=3"],
    ["north", "--at", "2026-12-20T20:30", "--landmark", "geo:-44.03,170.5", "--lean-error", "1"],
    ["north", "--at", "2061-06-20T22:00"],
    ["point", "Vega", "--at", "2026-08-12T23:00"],
    ["point", "Moon", "--at", "2026-08-20T19:00", "--ring-turn", "90"],
    ["point", "Canopus", "--at", "2026-08-20T19:00"],
    ["find", "M2", "--at", "2026-08-12T23:00"],
    ["find", "Saturn", "--at", "2026-10-10T22:00"],
    ["find", "Jupiter", "--at", "2027-02-20T22:30"],
    ["find", "Moon", "--at", "2026-12-17T21:00"],
    ["room", "Vega", "M31", "Mercury", "--at", "2026-08-12T15:00"],
    ["evening", "--date", "2026-12-05"],
    ["evening", "--date", "2026-06-18", "--minutes-per-stop", "30"],
    ["pole", "--at", AT],
    ["pole", "--at", AT, "--scale-reading", "40", "--azimuth-error-arcmin", "25"],
    ["pole", "--at", "2026-06-21T12:00", "--true-pole", "--east-arcmin", "-12"],
    ["enough", "--at", AT],
    ["enough", "--at", AT, "--for", "camera", "--object", "M42", *CAMERA],
    ["enough", "--at", AT, "--for", "eye", "--magnification", "77", "--nudge-minutes", "1"],
    ["objects", "--date", "2026-12-05", "--limit", "4"],
    ["objects", "--at", "2026-12-05T20:30Z", "--all", "--kind", "double", "--limit", "3"],
    ["objects", "--best-nights", "M51", "--date", "2026-12-05", "--until", "2027-02-01"],
    ["calendar", "--from", "2026-12-05", "--to", "2026-12-12"],
    ["calendar", "--from", "2026-12-05", "--to", "2027-02-05", "--on", "fri,sat", "--best", "3"],
]
TURNED_NOTES = Path(tempfile.gettempdir()) / "axletree-turned.jsonl"
DRAWN = {"check", "spot", "level", "north", "balance", "follow", "pole", "enough", "point",
         "room", "calendar", "evening", "find"}  # fmt: skip
WITHOUT_KIT = [
    [
        "check",
        "turned",
        "--notes",
        str(TURNED_NOTES),
        *MEASURED_AT,
        "--kit",
        "courtyard",
        "--altitude-turns",
        "-0.25",
    ],
    [*measured("frames", "frame0.fits", "frame1.fits", "frame2.fits"), "--kit", "courtyard"],
    [*measured("frames", "frame0.fits", "frame1.fits"), "--kit", "courtyard", "--true-pole"],
    ["check", "--notes", str(SHEETS / "notes.jsonl"), *MEASURED_AT, "--kit", "courtyard"],
    *(
        [*words, "--kit", str(SHEETS / "brought" / "kit.toml")]
        for words in (
            ["where", "C/2026", "Z9", "--at", "2026-12-05T19:00"],
            ["objects", "--kind", "comets", "--kind", "asteroids", "--at", "2026-12-05T19:00"],
            ["evening", "--date", "2026-12-05", "--minutes-per-stop", "40"],
        )
    ),
    ["kit", "check", "courtyard"],
    ["kit", "check", "paddock"],
    ["kit", "measure", "courtyard"],
    ["place", "Évora", "--limit", "2"],
    ["place", "38.57 -7.91 300 m"],
]
# One record, written and read in this order; what is told of its entries holds random marks.
LOG = [
    ["log", "begin", "--at", "2026-12-05T19:00", "--kit", "courtyard"],
    ["log", "add", "done", "M31", "--visitors", "4", "--at", "2026-12-05T20:00"],
    ["log", "add", "skipped", "M45", "--note", "cloud", "--at", "2026-12-05T20:10"],
    ["log", "add", "note", "thin", "cloud", "--at", "2026-12-05T20:20"],
    ["log", "add", "sky", "--seeing", "2.5", "--at", "2026-12-05T20:30"],
    ["log", "add", "bolt", "--altitude", "0.5", "--at", "2026-12-05T20:40"],
    ["log", "show", "1"],
    ["log", "search", "cloud"],
    ["log", "search", "cloud", "--json"],
    ["log", "search", "zebra"],
    ["log"],
    ["log", "--json"],
    ["log", "bolts"],
    ["log", "bolts", "--json"],
]
MOMENT = "2026-12-05T20:30:00Z"
PAGES = [
    "/answer/calendar?at=2026-12-05T10:00:00Z&on=sat",
    "/answer/calendar/night?first=2026-12-05&day=2027-01-09",
    f"/answer/check?at={MOMENT}",
    "/answer/check?at=2026-12-05T12:00:00Z",
    "/answer/kit",
    "/answer/follow?object=Vega&at=2026-08-12T22:00:00Z",
    "/answer/follow?object=Sun&at=2026-08-12T12:00:00Z",
    "/answer/rig",
    "/answer/rig/side?view=1&tube_end_h=2&swing_deg=40",
    f"/answer/point/up?at={MOMENT}",
    "/answer/names?q=ve",
    "/answer/level?divisions=1.5&towards=135",
    "/answer/level?rim=true&towards=120",
    "/answer/north?at=2026-12-05T11:00:00Z&landmark=geo:38.6003,-7.9101",
    "/answer/yard",
    "/answer/point?object=Vega&at=2026-08-12T22:00:00Z",
    "/answer/point?object=Sun&at=2026-08-12T12:00:00Z",
    "/answer/balance",
    "/answer/balance/now?weights=0@120&over_mm=380",
    "/answer/teach?at=2026-10-10T21:00",
    "/answer/rehearse?day=2026-12-05&at=2026-12-05T12:00:00Z",
    f"/answer/pole?at={AT}",
    f"/answer/pole?at={AT}&scale=40&azimuth=-20",
]
WATCHED = [
    {"star": "", "hour_angle_h": "0.2", "declination_deg": "-2", "drift_arcsec": "-30"},
    {"star": "b", "hour_angle_h": "-4.5", "declination_deg": "-5", "drift_arcsec": "40"},
    {"star": "c", "hour_angle_h": "3.9", "declination_deg": "4", "drift_arcsec": "90"},
]
READ = [
    {"hour_angle_h": "-4", "declination_deg": "-2", "tube_side": "west", "hour_circle_h": "-4:01",
     "declination_circle_deg": "-1.5"},
    {"hour_angle_h": "0.2", "declination_deg": "-5", "tube_side": "east", "hour_circle_h": "0.2",
     "declination_circle_deg": "-4,4"},
    {"hour_angle_h": "5", "declination_deg": "3", "tube_side": "east", "hour_circle_h": "5",
     "declination_circle_deg": "3.8"},
]  # fmt: skip


def sheet(method: str, rows: list[dict[str, str]]) -> str:
    """What the page about the axis sends."""
    watched = {"watched_s": "600"} if method == "drift" else {}
    sent = [{**row, **watched} for row in rows]
    return json.dumps({"at": MOMENT, "method": method, "id": "abcdef01", "rows": sent})


MEASURED = [
    sheet("drift", WATCHED),
    sheet("drift", [*WATCHED, {**WATCHED[0], "drift_arcsec": "far"}]),
    sheet("readings", READ),
    sheet("readings", READ[:1]),
]
# What a page sends is its body.
SENT = [
    ("/answer/spot", {"date": "2026-12-05", "spacing_m": 1.0}),
    ("/answer/spot", {"date": "2026-06-20", "spacing_m": 1.0, "yard": {
        "area_m": [[0, 0], [6, 0], [6, 6], [0, 6]],
        "keep_out_m": [[[-1, -1], [7, -1], [7, 7], [-1, 7]]]}}),
]  # fmt: skip
LONG = bool(os.environ.get("AXLETREE_LONG"))
SPOKEN = frozenset(("title", "desc", "text", "tspan"))


def questions() -> list[list[str]]:
    asked = []
    for words in WITHOUT_KIT:
        drawn = words[0] in DRAWN and "turned" not in words
        asked += [[*words, *(["--draw", "DRAWING"] if drawn else [])], [*words, "--json"]]
    for turn, kit in enumerate(("courtyard", "paddock")):
        # The kits take turns with commands and pages; each asks all of them in the long run.
        for words in COMMANDS if LONG else COMMANDS[turn::2]:
            drawing = ["--draw", "DRAWING"] if words[0] in DRAWN else []
            asked += [[*words, "--kit", kit, *drawing], [*words, "--kit", kit, "--json"]]
        asked += [["GET", page, kit] for page in (PAGES if LONG else PAGES[turn::2])]
        page = f"/answer/check?at={MOMENT}"
        asked += [["PUT", "/check/sheet", kit, sent, page] for sent in MEASURED]
        asked += [["POST", page, kit, json.dumps(body)] for page, body in SENT]
    asked += LOG
    return asked


QUESTIONS = questions()


def _asked(way: str) -> list[dict[str, Any]]:
    run = subprocess.run(
        [sys.executable, str(SCRIPT), way],
        input=json.dumps(QUESTIONS), capture_output=True, text=True, timeout=600, check=True,
    )  # fmt: skip
    answers: list[dict[str, Any]] = json.loads(run.stdout)
    return answers


@pytest.fixture(scope="module")
def both() -> list[tuple[dict[str, Any], dict[str, Any]]]:
    return list(zip(_asked("plain"), _asked("strange"), strict=True))


@pytest.mark.parametrize("number", range(len(QUESTIONS)), ids=lambda n: " ".join(QUESTIONS[n]))
def test_nothing_changes_but_the_words(
    both: list[tuple[dict[str, Any], dict[str, Any]]], number: int
) -> None:
    plain, other = both[number]
    assert plain["status"] == other["status"]
    # A page that may not be seen would hold none of the words that are looked at here.
    assert plain["status"] in (0, 200, 422), plain["out"]
    assert plain["err"] == other["err"] == ""
    words = QUESTIONS[number]
    if "--json" in words or words[0] in other_words.PAGE:
        same_but_words(json.loads(plain["out"]), json.loads(other["out"]))
    else:
        assert strange(plain["out"]) == strange(other["out"])
        assert plain["out"] != other["out"], "no sentence was replaced: is it made in text.py?"
    if plain["drawn"] or other["drawn"]:
        same_drawing(plain["drawn"], other["drawn"])


def same_but_words(plain: Any, other: Any, where: str = "") -> None:
    """Same keys, lists, figures, codes; a text may differ in its letters where it is a sentence."""
    assert type(plain) is type(other), where
    if isinstance(plain, dict):
        assert list(plain) == list(other), where
        for key in plain:
            same_but_words(plain[key], other[key], f"{where}/{key}")
    elif isinstance(plain, list):
        assert len(plain) == len(other), where
        for k, (one, two) in enumerate(zip(plain, other, strict=True)):
            same_but_words(one, two, f"{where}/{k}")
    elif isinstance(plain, str):
        # The clock goes on between the two processes.
        assert strange(plain) == strange(other) or where.endswith("/made_at"), where
    else:
        assert plain == other, where


def same_drawing(plain: str, other: str) -> None:
    """The same elements with the same attributes; only what is written may differ.

    The font that a drawing carries along has the letters of its words, and so differs too.
    """
    one, two = (
        [e for e in ElementTree.fromstring(svg).iter() if not e.tag.endswith("}style")]
        for svg in (plain, other)
    )
    assert len(one) == len(two)
    spoken = 0
    for a, b in zip(one, two, strict=True):
        tag = a.tag.rpartition("}")[2]
        assert a.tag == b.tag
        assert a.attrib == b.attrib, tag
        assert strange(a.text or "") == strange(b.text or "")
        if (a.text or "") != (b.text or ""):
            assert tag in SPOKEN
            spoken += 1
    assert spoken, "no word of the drawing comes from text.py"
