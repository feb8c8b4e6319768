"""`axletree check` as a person runs it: files in, one answer, bolts, notes, drawing."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from astropy.io import fits

from axletree.cli import main

sys.path.insert(0, str(Path(__file__).parents[1] / "pole"))

import camera
import simulator as sim

LATITUDE, LONGITUDE, ELEVATION = 38.5712, -7.9093, 292.0
PLACE = sim.Place(LATITUDE, 978.6, 12.0, 14.0, -9.0)
STARS = [("Altair", "19:20"), ("Markab", "19:40"), ("Menkar", "20:00"), ("Capella", "20:20")]
AT = ["--at", "2026-12-05T20:30"]


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


def drift_file(name="stars.csv", stars=STARS, swap=(), noise=0.0, place=PLACE):
    """Drifts as the simulated mount shows them, hour angles from the reader itself."""
    from datetime import UTC, datetime

    from axletree.kit.reading.table import Row
    from axletree.pole.rows.reading import place_of
    from axletree.sky.observer import Observer

    observer = Observer(LATITUDE, LONGITUDE, ELEVATION)
    rng = np.random.default_rng(4)
    lines = ["star,started,watched_s,drift_arcsec,sigma_arcsec"]
    for star, clock in stars:
        at = datetime.fromisoformat(f"2026-12-05T{clock}:00").replace(tzinfo=UTC)
        placed = place_of(Row("x", 1, {"star": star}, False), at, observer)
        drift = sim.drift_arcsec(place, placed.hour_angle_h, placed.declination_deg, 600.0)
        drift = (drift + rng.normal(0.0, noise)) * (-1 if star in swap else 1)
        lines.append(f"{star},{clock},600,{drift:.2f},1.5")
    Path(name).write_text("\n".join(lines) + "\n")
    return name


def frame_files(place=PLACE, hours=(-3.0, -1.0, 1.5)):
    headers = camera.frame_headers(
        place, LONGITUDE, ELEVATION, hours, 60.0, "2026-12-05T20:25:00", scale_arcsec=3.0,
        roll_deg=20.0,
    )  # fmt: skip
    names = []
    for k, header in enumerate(headers):
        held = fits.Header({w: v for w, v in header.items() if not w.startswith("NAXIS")})
        names.append(f"f{k}.fits")
        fits.PrimaryHDU(np.zeros((800, 1200), np.uint8), held).writeto(names[-1], overwrite=True)
    return names


def squeezed(text):
    return " ".join(text.split())


def run(capsys, *words):
    status = main(["check", *words])
    out, err = capsys.readouterr()
    return status, out, err


def as_json(capsys, *words):
    status, out, err = run(capsys, *words, "--json")
    assert status == 0, err
    return json.loads(out)


def test_drift_text_is_one_answer_within_eighty_columns(capsys):
    status, out, err = run(capsys, "drift", drift_file(), *AT, "--good", "5")
    assert (status, err) == (0, "")
    assert "14.0′" in out
    assert "too high" in out
    assert "9.0′" in out
    assert "too far west" in out
    assert "not good enough" in out
    assert "altitude bolt" in out
    assert "east azimuth bolt" in out
    assert "Noted in axletree-axis.jsonl" in out
    assert max(len(line) for line in out.splitlines()) <= 80


def test_drift_json_carries_units_and_null_for_the_unknown(capsys):
    told = as_json(capsys, "drift", drift_file(), *AT, "--good", "5")
    assert told["high_arcmin"] == pytest.approx(14.0, abs=0.1)
    assert told["east_arcmin"] == pytest.approx(-9.0, abs=0.1)
    assert told["rank"] == 2
    assert told["good_enough"] == "bad"
    assert told["bolts"]["raise_deg"] < 0 < told["bolts"]["move_east_deg"]
    assert told["while_turning"]["star"]
    told = as_json(capsys, "drift", drift_file("one.csv", STARS[:1]), *AT, "--no-notes")
    assert told["rank"] == 1
    assert told["high_sigma_arcmin"] is None
    assert told["bolts"] is None
    assert told["next_drift"]["star"]


def test_a_swapped_sign_is_named_with_its_line(capsys):
    name = drift_file(swap=("Menkar",), noise=0.5)
    _, out, _ = run(capsys, "drift", name, *AT, "--good", "5")
    assert "Menkar (line 4): the drift fits only with north and south swapped" in out


def test_standard_input(capsys, monkeypatch):
    import io

    monkeypatch.setattr("sys.stdin", io.StringIO(Path(drift_file()).read_text()))
    status, out, _ = run(capsys, "drift", "-", *AT)
    assert status == 0
    assert "14.0′" in out


def test_together_then_turned_then_nothing_counts(capsys):
    as_json(capsys, "drift", drift_file(noise=1.0), *AT)
    both = as_json(capsys, "frames", *frame_files(), *AT)
    assert len(both["measurements"]) == 2
    again = as_json(capsys, "frames", *frame_files(), *AT)
    assert len(again["measurements"]) == 2  # the same frames count once
    together = as_json(capsys, "--at", "2026-12-05T21:00")
    assert together["high_arcmin"] == pytest.approx(14.0, abs=0.3)
    assert together["east_arcmin"] == pytest.approx(-9.0, abs=0.3)
    status, out, _ = run(capsys, "turned", "--at", "2026-12-05T21:05", "--altitude-turns", "-0.2")
    assert status == 0
    assert "no longer count" in out
    status, _, err = run(capsys, "--at", "2026-12-05T21:10")
    assert status == 2
    assert "nothing was measured since the last turn" in err


def test_an_outlier_among_three_is_named(capsys):
    as_json(capsys, "drift", drift_file(noise=1.0), *AT)
    wrong = sim.Place(LATITUDE, 978.6, 12.0, 44.0, 30.0)
    as_json(capsys, "drift", drift_file("wrong.csv", place=wrong), *AT)
    as_json(capsys, "frames", *frame_files(), *AT)
    _, out, _ = run(capsys, "--at", "2026-12-05T21:00")
    assert "contradicts all the others" in out
    assert "(wrong.csv)" in out


def test_readings(capsys):
    rng = np.random.default_rng(3)
    side = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])
    H, d = np.array([-4, -2, 0.5, 2, 3.5, -1.0]), np.array([10, 40, 5, 55, 25, -10.0])
    h, dec = sim.centred_star(PLACE, side, H, d, 6.0, 3.0)
    lines = ["hour_angle_h,declination_deg,tube_side,hour_circle_h,declination_circle_deg"]
    for k in range(6):
        word = "east" if side[k] > 0 else "west"
        slipped = sim.shown(*sim.shafts(side[k], H[k], d[k]), 0.25, -1.5)
        shown = slipped[0] + rng.normal(0, 2 / 900), slipped[1] + rng.normal(0, 2 / 60)
        lines.append(f"{h[k]:.5f},{dec[k]:.4f},{word},{shown[0]:.5f},{shown[1]:.4f}")
    Path("circles.csv").write_text("\n".join(lines))
    told = as_json(capsys, "readings", "circles.csv", *AT)
    this = told["this_measurement"]
    assert told["high_arcmin"] == pytest.approx(14.0, abs=5.0)
    assert told["east_arcmin"] == pytest.approx(-9.0, abs=5.0)
    assert this["index_hour_arcmin"] == pytest.approx(225.0, abs=5.0)
    assert this["index_declination_arcmin"] == pytest.approx(-90.0, abs=5.0)
    _, out, _ = run(capsys, "readings", "circles.csv", *AT)
    shown = {own["circle"]: own for own in this["circles_show_too_much"]}
    assert shown["declination"]["on_side_east_arcmin"] == pytest.approx(-90.0, abs=5.0)
    assert shown["declination"]["on_side_west_arcmin"] == pytest.approx(90.0, abs=5.0)
    assert shown["hour"]["on_side_east_arcmin"] == shown["hour"]["on_side_west_arcmin"]
    assert this["set_anew_between_sides"] == []
    told = squeezed(out)
    hour = shown["hour"]["on_side_east_arcmin"] / 15.0
    assert f"Hour circle: shows {hour:.1f} min too much on both tube sides" in told
    size = f"{shown['declination']['on_side_west_arcmin'] / 60.0:.2f}°"
    assert f"shows {size} too little on tube side east, {size} too much on side west" in told
    assert "Taken as not set anew between the tube sides" in told


def circles_file(step_deg=0.0, column=False, stars=3):
    """A declination circle that slipped by 1 degree, moved by a step between the sides."""
    lines = [
        "star,hour_angle_h,declination_deg,tube_side,hour_circle_h,declination_circle_deg"
        + (",declination_circle_setting" if column else "")
    ]
    H, d = np.array([0.3, 3.5, 5.0]), np.array([5.0, 40.0, 20.0])
    for side, word in ((1.0, "east"), (-1.0, "west")):
        for k in range(stars):
            both = sim.shafts(side, side * H[k], d[k])
            star = sim.tube_on(PLACE, *both, 0.0, 0.0)
            slip = 1.0 + (step_deg if side < 0 else 0.0)
            shown = sim.shown(*both, 0.0, slip)
            lines.append(
                f"S{k},{star[0]:.5f},{star[1]:.4f},{word},{shown[0]:.5f},{shown[1]:.4f}"
                + (f",{word[0]}" if column else "")
            )
    Path("circles.csv").write_text("\n".join(lines))
    return "circles.csv"


def test_a_circle_set_anew_is_noticed_or_said(capsys):
    status, out, _ = run(capsys, "readings", circles_file(6.0), *AT, "--no-notes")
    assert status == 0
    told = squeezed(out)
    assert "The declination circle seems to have been set anew between the tube sides" in told
    assert "as set on side east: shows 1.00° too much there" in told
    assert "as set on side west: shows 7.00° too little there" in told
    said = as_json(capsys, "readings", circles_file(1.0, column=True), *AT, "--no-notes")
    assert said["high_arcmin"] == pytest.approx(14.0, abs=1.0)
    assert said["east_arcmin"] == pytest.approx(-9.0, abs=1.0)
    assert said["this_measurement"]["set_anew_between_sides"] == []
    assert "declination" not in said["this_measurement"]["set_anew_seen_from_arcmin"]
    _, out, _ = run(capsys, "readings", circles_file(1.0, column=True), *AT, "--no-notes")
    told = squeezed(out)
    assert "setting 'e': shows 1.00° too much on tube side east" in told
    assert "setting 'w': shows 2.00° too much on tube side east, 2.00° too little" in told


def test_one_star_on_both_sides_says_what_stays_open(capsys):
    _, out, _ = run(capsys, "readings", circles_file(stars=1), *AT, "--no-notes")
    told = squeezed(out)
    assert "2 circle readings of 1 star" in told
    assert "Only one direction is known so far" in told
    assert "Declination circle: shows" in told
    assert "too much on tube side east" in told
    assert "these readings couldn't show a move" in told
    assert "next, tube side" in out
    assert max(len(line) for line in out.splitlines()) <= 80


THREE = [("Altair", "19:20"), ("Markab", "19:40"), ("Capella", "20:20")]


def mistaken_file(name="stars.csv", off_arcsec=50.0):
    """Three stars, the last of which was read wrong."""
    lines = Path(drift_file(name, THREE)).read_text().splitlines()
    cells = lines[3].split(",")
    cells[3] = f"{float(cells[3]) + off_arcsec:.2f}"
    Path(name).write_text("\n".join([*lines[:3], ",".join(cells)]) + "\n")
    return name


def test_three_stars_of_which_one_is_wrong_are_a_doubt_that_is_carried_on(capsys):
    _, out, _ = run(capsys, "drift", mistaken_file(), *AT, "--good", "60")
    words = " ".join(out.split())
    assert "Capella (line 4) mistaken, 50″ too far north" in words
    assert "Altair (line 2) mistaken" in words
    assert "Watch a fourth star" in words
    assert "% sure" not in words
    assert max(len(line) for line in out.splitlines()) <= 80
    told = as_json(capsys, *AT)  # all measurements together
    doubt = next(d for d in told["doubts"] if d["kind"] == "disagreeing")
    assert doubt["source"] == "stars.csv"
    assert {e["mistake"] for e in doubt["explanations"]} >= {"mistaken"}
    assert told["check_star"]["shown_then"] >= 0.5
    _, out, _ = run(capsys, *AT, "--good", "60")
    assert "Capella (line 4) mistaken, 50″ too far north" in " ".join(out.split())
    assert "% sure" not in out


def test_a_star_added_to_the_list_settles_the_doubt_and_replaces_the_shorter_list(capsys):
    name = mistaken_file()
    run(capsys, "drift", name, *AT)
    fourth = Path(drift_file("more.csv", STARS)).read_text().splitlines()[3]
    Path(name).write_text(Path(name).read_text() + fourth + "\n")
    told = as_json(capsys, "drift", name, *AT)
    assert [s["left_out"] for s in told["this_measurement"]["stars"]] == [False, False, True, False]
    assert len(told["measurements"]) == 1
    assert told["high_arcmin"] == pytest.approx(14.0, abs=1.0)
    assert all(d["kind"] != "disagreeing" for d in told["doubts"])


def test_what_one_list_cannot_check_another_measurement_checks(capsys):
    two = drift_file("two.csv", STARS[:2])
    _, out, _ = run(capsys, "drift", two, *AT)
    assert "Nothing checks Altair (line 2) and Markab (line 3)" in " ".join(out.split())
    told = as_json(capsys, "drift", drift_file("more.csv", STARS[2:]), *AT)
    assert [m["source"] for m in told["measurements"]] == ["two.csv", "more.csv"]
    by_own = {d["source"]: d["rows"] for d in told["doubts"]}
    assert "two.csv" not in by_own or len(by_own["two.csv"]) < 2


def test_the_drawing_is_whole_and_says_what_to_do(capsys):
    run(capsys, "drift", drift_file(), *AT, "--good", "5", "--draw", "axis.svg")
    root = ElementTree.parse("axis.svg").getroot()
    words = " ".join(t.text or "" for t in root.iter("{http://www.w3.org/2000/svg}text"))
    for expected in ("too high", "too low", "good enough: 5.0′", "pole", "altitude bolt"):
        assert expected in words


def test_the_true_pole_on_request(capsys):
    seen = as_json(capsys, "drift", drift_file(), *AT, "--no-notes")
    true = as_json(capsys, "drift", drift_file(), *AT, "--no-notes", "--true-pole")
    # Reference row R15: the air lifts the pole by 1.15' at 40 degrees and 1010 hPa.
    assert true["high_arcmin"] - seen["high_arcmin"] == pytest.approx(1.16, abs=0.05)


def test_the_logbook_learns_of_it_if_an_evening_was_begun(capsys, own_folder):
    from datetime import UTC, date, datetime

    from axletree.kit.kit import demo_kit, demo_text
    from axletree.logbook.read import evening_whole
    from axletree.logbook.store import Logbook, default_logbook

    with Logbook(default_logbook()) as book:
        evening = book.begin_evening(
            date(2026, 12, 5), demo_kit(), demo_text(), datetime(2026, 12, 5, 18, tzinfo=UTC)
        )
    told = as_json(capsys, "drift", drift_file(), *AT)
    assert "the logbook" in told["noted_in"]
    run(capsys, "turned", "--at", "2026-12-05T21:05", "--altitude-turns", "-0.2")
    with Logbook(default_logbook()) as book:
        whole = evening_whole(book, evening)
    assert whole["axis_measure"][0]["high_arcmin"] == pytest.approx(14.0, abs=0.1)
    assert whole["bolt_turn"][0]["altitude_turns"] == -0.2


@pytest.mark.parametrize(
    "words",
    [
        ["drift"], ["drift", "none.csv"], ["drift", "a.csv", "b.csv"], ["frames"],
        ["frames", "none.fits"], ["all", "x.csv"], ["--good", "-3"], ["sideways"],
        ["turned", "--no-notes"], ["--base-leans-east", "60"], ["--at", "whenever"],
        ["drift", "."], ["--centring", "nan"], ["--good", "nan"],
    ],
)  # fmt: skip
def test_bad_input_is_one_line_and_status_two(capsys, words):
    try:
        status, out, err = run(capsys, *words)
    except SystemExit as stop:
        status = stop.code
        out, err = capsys.readouterr()
    assert status == 2
    assert out == ""
    assert len(err.strip().splitlines()) == 1


def test_help_lists_the_columns(capsys):
    with pytest.raises(SystemExit):
        main(["check", "--help"])
    out, _ = capsys.readouterr()
    for column in ("watched_s", "offset_arcsec", "declination_circle_deg", "field_part"):
        assert column in out
