"""`axletree point` and `axletree room`: text, JSON, drawings, one line for bad input."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET

import pytest

from axletree.cli import main

SVG = "{http://www.w3.org/2000/svg}"
WHEN = "2026-08-12T23:00"


def _run(capsys, *words):
    status = main(list(words))
    shown = capsys.readouterr()
    return status, shown.out, shown.err


def test_point_answers_in_one_page(capsys):
    status, out, err = _run(capsys, "point", "Vega", "--at", WHEN)
    assert (status, err) == (0, "")
    assert out.startswith("Vega: tube on side ")
    assert max(len(line) for line in out.splitlines()) <= 80
    for words in ("side west", "hour circle", "eyepiece height", "Cautions:", "guessed"):
        assert words in out


@pytest.mark.parametrize("kit", ["courtyard", "paddock"])
@pytest.mark.parametrize("name", ["Altair", "Fomalhaut", "Saturn", "M 8"])
def test_text_and_data_say_the_same(capsys, kit, name):
    _, text, _ = _run(capsys, "point", name, "--at", WHEN, "--kit", kit)
    status, out, _ = _run(capsys, "point", name, "--at", WHEN, "--kit", kit, "--json")
    assert status == 0
    data = json.loads(out)
    assert [s["side"] for s in data["sides"]] == ["east", "west"]
    if data["better_side"]:
        assert f"tube on side {data['better_side']}" in text
        best = data["sides"][["east", "west"].index(data["better_side"])]
        assert best["usable"]
        assert best["room_s"] > 0
    else:
        assert "not now" in text
    for side in data["sides"]:
        assert -90 <= side["barrel_altitude_deg"] <= 90
        assert side["eyepiece_can_fall"] == (side["barrel_altitude_deg"] < 0)


def test_object_in_the_west_hangs_its_tube_in_the_east(capsys):
    # Common practice, no source.
    _, out, _ = _run(capsys, "point", "Arcturus", "--at", "2026-08-12T22:30", "--json")
    data = json.loads(out)
    assert data["hour_angle_h"] > 1
    assert data["better_side"] == "east"


def test_views_of_both_sides_are_drawn(capsys, tmp_path):
    file = tmp_path / "vega.svg"
    assert _run(capsys, "point", "Vega", "--at", WHEN, "--draw", str(file))[0] == 0
    root = ET.fromstring(file.read_text(encoding="utf-8"))
    words = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
    for part in ("from the east", "from behind, looking to the pole", "from above", "side west"):
        assert part in words
    assert len(root.findall(f"{SVG}path")) > 60


def test_nothing_is_pointed_at_the_sun(capsys):
    status, out, _ = _run(capsys, "point", "Sun", "--at", "2026-08-12T13:00", "--json")
    assert status == 1
    data = json.loads(out)
    assert data["better_side"] is None
    assert "sides" not in data
    assert "blinds" in data["cautions"][0]
    # Regulus stands near the Sun in August, by day; at night it may be asked for.
    status, out, _ = _run(capsys, "point", "Regulus", "--at", "2026-08-20T13:00")
    assert status == 1
    assert "from the Sun" in out
    assert max(map(len, out.splitlines())) <= 80
    assert _run(capsys, "point", "Regulus", "--at", "2026-08-20T01:00")[0] == 0
    # By day the caps stay on for whatever is far enough; at night nothing is said of the Sun.
    assert "The Sun is up: caps on" in _run(capsys, "point", "Vega", "--at", "2026-08-20T19:00")[1]
    assert "The Sun is up" not in _run(capsys, "point", "Vega", "--at", "2026-08-20T23:00")[1]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["point", "Vega", "--minutes", "0"], "--minutes 0"),
        (["point", "Vega", "--minutes", "nan"], "--minutes nan"),
        (["point", "Vegaa-nonsense"], "no object named"),
        (["point", "Vega", "--camera"], "no \\[camera\\]"),
        (["room", "nonsense-object"], "no object named"),
        (["point", "Vega", "--at", "yesterday"], "--at 'yesterday'"),
    ],
)
def test_bad_input_is_one_line(capsys, words, message):
    status, out, err = _run(capsys, *words)
    assert (status, out) == (2, "")
    assert re.search(message, err)
    assert err.count("\n") == 1


def test_a_rig_that_hits_itself_is_one_line(capsys, tmp_path):
    from axletree.kit.kit import demo_text

    file = tmp_path / "long.toml"
    file.write_text(demo_text("courtyard").replace("length_mm = 700", "length_mm = 4200"))
    for command in (["point", "Vega"], ["room"]):
        status, out, err = _run(capsys, *command, "--kit", str(file))
        assert (status, out) == (2, "")
        assert "longer than the mount can turn" in err
        assert err.count("\n") == 1


def test_room_says_from_where_to_where(capsys):
    status, out, _ = _run(capsys, "room", "--at", WHEN)
    assert status == 0
    assert max(len(line) for line in out.splitlines()) <= 80
    assert "side west" in out
    data = json.loads(_run(capsys, "room", "--at", WHEN, "--json")[1])
    share = data["share_of_open_sky"]
    assert share["either"] > 0.99
    rows = [r for r in data["stretches"] if r["side"] == "west" and r["declination_deg"] == 40]
    assert rows[0]["ends"] == "contact"
    assert "leg" in rows[0]["why"]


def test_room_map_is_drawn_with_marks(capsys, tmp_path):
    file = tmp_path / "room.svg"
    status, _, _ = _run(capsys, "room", "Vega", "M 13", "--at", WHEN, "--draw", str(file))
    assert status == 0
    text = file.read_text(encoding="utf-8")
    root = ET.fromstring(text)
    words = [t.text or "" for t in root.iter(f"{SVG}text")]
    assert words.count("Vega") == 2  # on both strips
    assert "tube on side east" in words
    assert any(re.fullmatch(r"\d+ h( \d\d min)?", w) for w in words)
    assert len(text) < 250_000
    assert 'opacity="0.72"' in text


def test_an_unreadable_name_is_data_not_markup(capsys, tmp_path):
    from axletree.kit.kit import demo_text

    file = tmp_path / "named.toml"
    evil = '<script>alert(1)</script>&"'
    text = demo_text("courtyard").replace('name = "hand-driven mount"', f"name = '{evil}'")
    file.write_text(text)
    drawing = tmp_path / "room.svg"
    assert _run(capsys, "room", "--kit", str(file), "--draw", str(drawing))[0] == 0
    svg = drawing.read_text()
    assert "<script>" not in svg
    ET.fromstring(svg)


@pytest.mark.parametrize(
    ("name", "code", "words"),
    [
        ("Aldebaran", "not risen", "it has not risen to 15° yet"),
        ("Spica", "below", "it stands below 15°"),
    ],
)
def test_what_rises_is_not_said_to_sink(capsys, name, code, words):
    """An August midnight from Évora: Aldebaran is to rise in the north-east, Spica has set."""
    at = ("--at", "2026-08-12T23:30")
    _, out, _ = _run(capsys, "point", name, *at)
    told = " ".join(out.split())
    assert f"Neither side can be used now: {words}." in told
    assert "sinks" not in told
    data = json.loads(_run(capsys, "point", name, *at, "--json")[1])
    assert [side["ends_code"] for side in data["sides"]] == [code, code]


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["point", "Mercury"], "from the Sun, which is up"),
        (["find", "Mercury"], "from the Sun, which is up"),
        (["follow", "Mercury"], "from the Sun, which is up"),
        (["find", "Saturn"], "is below the horizon"),
    ],
)
def test_where_nothing_can_be_drawn_the_reason_is_told(capsys, tmp_path, words, why):
    """Text and JSON say it, with a drawing asked for or not; no file is left behind."""
    when = ["--at", "2026-06-21T12:00Z" if words[1] == "Mercury" else "2026-12-05T06:00"]
    status, out, err = _run(capsys, *words, *when)
    assert (status, err) == (1, "")
    assert why in " ".join(out.split())
    assert "clockwise" not in out
    file = tmp_path / "drawing.svg"
    status, told, err = _run(capsys, *words, *when, "--draw", str(file))
    assert status == 2
    assert told == out
    assert err.count("\n") == 1
    assert not file.exists()
