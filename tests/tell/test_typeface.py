"""The typeface goes along with everything, is small, and has every sign that is printed."""

from __future__ import annotations

import csv
import json
import re
import unicodedata
from pathlib import Path
from xml.etree import ElementTree

import pytest

import axletree
from axletree.data import data_path
from axletree.tell.shared.measure import shortened, width_of, widths, wrapped
from axletree.tell.shared.sheet import Sheet
from axletree.tell.shared.typeface import by_itself

HOUSE = Path(axletree.__file__).parent
WEIGHED = [data_path(f"typeface/{style}.woff2") for style in ("regular", "semibold", "italic")]
# Where words are made that a page, a drawing or a sheet shows; what prints to a terminal only, or
# reads what a person wrote, may use other signs.
SPEAKING = sorted(
    file
    for pattern in ("tell/**/*.py", "tell/**/*.html", "tell/**/*.js", "app/**/*.js",
                    "app/**/*.html", "app/**/*.py", "sky/catalogue/*.py", "kit/demo/*.toml")
    for file in HOUSE.glob(pattern)
)  # fmt: skip
# With the reason.
ELSEWHERE = {"─": "a rule in the terminal's text"}
# One place says its name in Arabic letters too, which the typeface has not.
OTHER_SCRIPTS = ("ARABIC",)


def set_in(letter: str, style: str = "regular") -> bool:
    known = widths(style).advances  # type: ignore[arg-type]
    return letter in known or all(part in known for part in unicodedata.normalize("NFD", letter))


# The object of which something is said: its name never stands in the saying's italics.
KEY_OF_A_SAYING = re.compile(r'^    "[^"]+": Saying\(', re.MULTILINE)


def missing(text: str, style: str = "regular") -> set[str]:
    return {c for c in set(text) - set(ELSEWHERE) if c.isprintable() and not set_in(c, style)}


def test_the_typeface_is_small_enough_to_send() -> None:
    sizes = [file.stat().st_size for file in WEIGHED]
    assert all(size > 8_000 for size in sizes)
    assert sum(sizes) <= 60_000


@pytest.mark.parametrize("style", ["regular", "semibold", "italic"])
def test_every_sign_that_our_words_use_is_in_every_style(style: str) -> None:
    assert len(SPEAKING) > 150
    lacking = {
        file.relative_to(HOUSE).as_posix(): found
        for file in SPEAKING
        if (found := missing(KEY_OF_A_SAYING.sub("", file.read_text(encoding="utf-8")), style))
    }
    if style == "italic":  # stars' names and designations stand in italics nowhere
        lacking = {f: found for f, found in lacking.items() if not f.startswith("sky/catalogue")}
    assert not lacking


def test_every_name_in_the_data_can_be_set() -> None:
    rows = data_path("places.txt").read_text(encoding="utf-8").split("\n")
    names = [row.split("|")[0] for row in rows[3:]] + rows[0].split("|") + rows[1].split("|")
    for name in ("star_names.csv", "deep_sky.csv", "doubles_own.csv", "double_notes.csv",
                 "doubles_gaia.csv"):  # fmt: skip
        with data_path(name).open(encoding="utf-8", newline="") as file:
            names += [cell for row in csv.reader(file) for cell in row]
    names += _texts(json.loads(data_path("star_figures.json").read_text(encoding="utf-8")))
    assert len(names) > 100_000
    lacking = {c for c in missing("".join(names))
               if not unicodedata.name(c).startswith(OTHER_SCRIPTS)}  # fmt: skip
    assert not lacking
    # In bold too, but for letters that only names of places have.
    assert not missing("".join(c for name in names[-3000:] for c in name), "semibold")


def _texts(value: object) -> list[str]:
    if isinstance(value, dict):
        return [t for pair in value.items() for part in pair for t in _texts(part)]
    if isinstance(value, list):
        return [t for part in value for t in _texts(part)]
    return [value] if isinstance(value, str) else []


def a_drawing() -> str:
    sheet = Sheet(300, 200, "A drawing", "of Łódź & Évora")
    sheet.text((10, 20), "Axis 3.2′ low")
    sheet.text((10, 50), "Turn <the> & left", weight=600)
    return sheet.svg()


def test_a_drawing_alone_carries_its_letters_and_stays_words() -> None:
    svg = by_itself(a_drawing())
    assert len(svg) < 25_000
    root = ElementTree.fromstring(svg)
    space = "{http://www.w3.org/2000/svg}"
    assert [t.text for t in root.iter(f"{space}text")] == ["Axis 3.2′ low", "Turn <the> & left"]
    assert root.findtext(f"{space}title") == "A drawing"
    assert root.findtext(f"{space}desc") == "of Łódź & Évora"
    assert root.get("role") == "img"
    rules = root.findtext(f"{space}style") or ""
    assert len(re.findall("@font-face", rules)) == 2  # nothing is slanted in it
    assert "var(" not in svg
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")  # nothing is fetched
    assert by_itself(a_drawing()) == svg


def test_a_drawing_without_words_carries_no_letters() -> None:
    assert "<style>" not in by_itself(Sheet(10, 10, "nothing").svg())


def test_rows_and_cuts_keep_to_the_width() -> None:
    words = "Keep the compass away from steel: car, tripod, weights, telephone and fence"
    rows = wrapped(words, 200.0, size=13)
    assert " ".join(rows) == words
    assert all(width_of(row, 13) <= 200.0 for row in rows)
    assert shortened(words, 5000.0) == words
    cut = shortened(words, 120.0)
    assert cut.endswith("…")
    assert words.startswith(cut[:-1])
    assert 100.0 < width_of(cut) <= 120.0


def test_letters_of_other_scripts_take_room_and_marks_none() -> None:
    assert width_of("天文", 10) == pytest.approx(20.0)
    assert width_of("a\u00adb\u200e", 10) == pytest.approx(width_of("ab", 10))
    assert width_of("Z\u0327", 10) == pytest.approx(width_of("Z", 10))
    assert width_of("e\u0301", 10) == pytest.approx(width_of("é", 10))
