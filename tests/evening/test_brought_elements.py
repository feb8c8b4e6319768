"""Comets and minor planets from a file that the person brings: read, chosen, named, warned of.

The lines are made up (`orbit_lines`); where they stand is held against other codes in
`tests/outside/test_orbits.py`.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from axletree.cli import main
from axletree.evening.brought.brought import brought_of
from axletree.evening.brought.elements import (
    LARGEST_BYTES,
    bright_objects,
    moving_objects,
    read_elements,
)
from axletree.evening.brought.named import object_named
from axletree.evening.objects.looks import looks_of
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_text
from axletree.sky.directions import separation_deg
from axletree.sky.observer import observer_of
from axletree.sky.orbits.orbit import OrbitDoubtKind, doubts_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from orbit_lines import Made, comet_line, minor_planet_line

NIGHT = datetime(2026, 12, 5, 19, tzinfo=UTC)
EPOCH_JD = 2461360.5  # 2026 November 16
BRIGHT = Made(0.9, 1.0002, 40.0, 75.0, 100.0, 2461400.5, EPOCH_JD, 6.5, 4.0)
FAINT = Made(1.2, 0.65, 200.0, 80.0, 12.0, 2461390.5, EPOCH_JD, 9.0, 4.0)
STONE = Made(2.15, 0.09, 151.0, 104.0, 7.1, 2461330.5, EPOCH_JD, 3.2, 0.32)
COMETS = "\n".join([comet_line(BRIGHT), comet_line(FAINT, "998P/Other"), ""])
STONES = "\n".join(
    [
        minor_planet_line(STONE, 9004, "Testa"),
        minor_planet_line(replace(FAINT, slope=0.15), 9433, "Madeup"),
        "",
    ]
)


def kit_with(tmp_path: Path, **files: str) -> Kit:
    """The demo kit with files of elements beside it, in `tmp_path`."""
    names = []
    for name, text in files.items():
        (tmp_path / f"{name}.txt").write_text(text, encoding="utf-8")
        names.append(f'"{name}.txt"')
    text = demo_text().replace("[habits]", f"[habits]\nelements_files = [{', '.join(names)}]", 1)
    (tmp_path / "axletree.toml").write_text(text, encoding="utf-8")
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit


def now_jd() -> float:
    at = Instants.from_datetime(NIGHT)
    return float(at.tt1[0] + at.tt2[0])


def test_both_formats_in_one_file_and_a_head_that_ends_in_dashes() -> None:
    head = "MINOR PLANET CENTER ORBIT DATABASE\nDes'n     H     G   Epoch\n" + "-" * 160 + "\n"
    read = read_elements(head + STONES + "\n# a remark\n" + COMETS, "mine.txt")
    assert [one.name.name for one in read.bodies] == [
        "9004 Testa", "9433 Madeup", "C/2026 Z9 (Madeup)", "998P/Other",
    ]  # fmt: skip
    assert read.broken == ()
    assert [one.orbit.comet for one in read.bodies] == [False, False, True, True]


def broken_lines() -> dict[str, tuple[str, str]]:
    """A line, and what its refusal says."""
    comet, stone = comet_line(BRIGHT), minor_planet_line(STONE)
    return {
        "rubbish": ("good evening", "line 2: neither a comet's nor a minor planet's line"),
        "no number": (comet[:30] + " 0.9o0000" + comet[39:], "columns 31-39: '0.9o0000' is not"),
        "empty": (comet[:41] + " " * 8 + comet[49:], "columns 42-49: empty"),
        "negative": (comet[:41] + "-0.50000" + comet[49:], "columns 42-49: -0.50000 must lie"),
        "no day": (comet[:19] + "13" + comet[21:], "columns 15-29: 2026-13-26 is no day"),
        "no name": (comet[:102] + " " * 56, "columns 103-158: no designation"),
        "far node": (comet[:61] + "999.0000" + comet[69:], "999.0000 must lie between"),
        "cut": (stone[:60], "columns 71-79: empty"),
        "no ellipse": (stone[:70] + "1.0000000" + stone[79:], "1.0000000 must lie between 0 and"),
        "packed day": (stone[:20] + "K26CW" + stone[25:], "columns 21-25: 'K26CW' is no packed"),
        "nameless": ("??????? " + stone[8:166], "columns 1-7: '???????' is no packed"),
        "infinite": (stone[:92] + "        inf" + stone[103:], "'inf' is not a number"),
        "long": (stone + "x" * 900, "longer than 400 letters"),
        "control": (comet[:30] + "\x1b[2J     " + comet[39:], "columns 31-39: '\ufffd[2J' is not"),
        "twice": (comet_line(FAINT, "998P/Other"), "'998P/Other' stands in line 1 already"),
    }  # fmt: skip


@pytest.mark.parametrize("which", broken_lines())
def test_a_broken_line_is_named_and_the_rest_is_used(which: str) -> None:
    line, words = broken_lines()[which]
    text = "\n".join([comet_line(FAINT, "998P/Other"), line, minor_planet_line(STONE)])
    read = read_elements(text, "mine.txt")
    [broken] = read.broken
    assert broken.line == 2
    assert str(broken.refusal).startswith("mine.txt line 2")
    assert words in str(broken.refusal)
    assert "\n" not in str(broken.refusal)
    assert len(read.bodies) == 2


def test_files_that_are_no_list_of_elements(tmp_path: Path) -> None:
    kit = kit_with(tmp_path, comets=COMETS)
    file = tmp_path / "comets.txt"

    def refused() -> str:
        with pytest.raises(AxletreeError) as error:
            brought_of(kit, tmp_path, NIGHT)
        assert "\n" not in str(error.value)
        return str(error.value)

    file.write_text("", encoding="utf-8")
    assert "empty, no line of elements" in refused()
    file.write_text("one\ntwo\nthree\n", encoding="utf-8")
    assert "line 1" in refused()
    assert "(and 2 more)" in refused()
    file.write_bytes(b"\xff\xfe\x00rubbish\n")
    assert "not a text file in UTF-8" in refused()
    file.write_bytes(b"x" * (LARGEST_BYTES + 1))
    assert "larger than 5 MB" in refused()
    file.write_text("x\n" * 20_001, encoding="utf-8")
    assert "more than 20000 lines" in refused()
    file.unlink()
    assert "no such file" in refused()
    file.mkdir()
    assert "not a file" in refused()
    with pytest.raises(AxletreeError, match="in no folder"):
        brought_of(kit, None, NIGHT)
    outside = kit.model_copy(
        update={"habits": kit.habits.model_copy(update={"elements_files": ("../x.txt",)})}
    )
    with pytest.raises(AxletreeError, match="beside the kit"):
        brought_of(outside, tmp_path, NIGHT)


def test_what_the_elements_make_bright_is_thought_of(tmp_path: Path) -> None:
    kit = kit_with(tmp_path, comets=COMETS, stones=STONES)
    brought = brought_of(kit, tmp_path, NIGHT)
    kinds = {thing.name: thing.kind for thing in brought.objects}
    assert kinds["C/2026 Z9 (Madeup)"] == "comet"
    assert kinds["9004 Testa"] == "minor planet"
    lights = [thing.magnitude_v for thing in brought.objects]
    assert lights == sorted(lights, key=lambda light: light or 0.0)
    dim = replace(FAINT, light=25.0)
    read = read_elements(comet_line(dim) + "\n" + comet_line(BRIGHT, "9P/Bright"), "mine.txt")
    now = Instants.from_datetime(NIGHT)
    assert [thing.name for thing in bright_objects(read.bodies, now)] == ["9P/Bright"]


def test_a_faint_one_that_must_be_seen_is_thought_of(tmp_path: Path) -> None:
    dim = comet_line(replace(FAINT, light=25.0), "998P/Other")
    kit = kit_with(tmp_path, comets=dim)
    assert brought_of(kit, tmp_path, NIGHT).objects == ()
    must = kit.model_copy(update={"habits": kit.habits.model_copy(update={"must_see": ("Other",)})})
    assert [thing.name for thing in brought_of(must, tmp_path, NIGHT).objects] == ["998P/Other"]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("C/2026 Z9", "C/2026 Z9 (Madeup)"), ("2026 z9", "C/2026 Z9 (Madeup)"),
        ("998P", "998P/Other"), ("998P/Other", "998P/Other"), ("other", "998P/Other"),
        ("9004 Testa", "9004 Testa"), ("(9004) Testa", "9004 Testa"), ("(9004)", "9004 Testa"),
        ("9004", "9004 Testa"), ("testa", "9004 Testa"), ("Vega", "Vega"), ("M13", "M13"),
        ("Saturn", "Saturn"),
    ],
)  # fmt: skip
def test_names_as_people_say_them(said: str, name: str, tmp_path: Path) -> None:
    kit = kit_with(tmp_path, comets=COMETS, stones=STONES)
    assert object_named(said, kit, tmp_path, NIGHT).name == name


def test_names_that_several_have_or_the_catalogues_keep(tmp_path: Path) -> None:
    vega = comet_line(FAINT, "C/2026 Z3 (Vega)")
    kit = kit_with(tmp_path, comets=COMETS + vega, stones=STONES)
    with pytest.raises(AxletreeError, match="may mean C/2026 Z9"):
        object_named("Madeup", kit, tmp_path, NIGHT)
    assert object_named("Vega", kit, tmp_path, NIGHT).kind == "star"
    assert object_named("C/2026 Z3", kit, tmp_path, NIGHT).kind == "comet"
    with pytest.raises(AxletreeError, match="no object named 'Nobody'"):
        object_named("Nobody", kit, tmp_path, NIGHT)


def test_it_moves_among_the_stars_within_a_night() -> None:
    """Its place is that of every instant, not of one of the evening."""
    read = read_elements(COMETS, "mine.txt")
    now = Instants.from_datetime(NIGHT)
    thing = moving_objects(read.bodies, now)[0]
    observer = observer_of(check_text(demo_text())[0].site)  # type: ignore[union-attr]
    seen = object_positions([thing], now.plus(np.array([0.0, 6 * 3600.0])), observer)
    ra, dec = seen.right_ascension_h[0] * 15.0, seen.declination_deg[0]
    moved = float(separation_deg(ra[0], dec[0], ra[1], dec[1])) * 60.0
    assert 5.0 < moved < 240.0  # arcminutes: a comet near the Earth
    # Where its row stands in the catalogue is where it is then, within parallax and precession.
    assert separation_deg(ra[0], dec[0], thing.ra_deg, thing.dec_deg) < 0.5


def test_what_is_doubtful_of_its_elements() -> None:
    old = replace(BRIGHT, epoch_jd=EPOCH_JD - 200.0)
    lines = [comet_line(BRIGHT, "C/2026 Z1 (A)"), comet_line(old, "C/2026 Z2 (B)")]
    silent = comet_line(BRIGHT, "C/2026 Z3 (C)")
    lines.append(silent[:81] + " " * 8 + silent[89:])
    ancient = replace(BRIGHT, epoch_jd=EPOCH_JD - 9000.0)
    lines.append(comet_line(ancient, "C/2026 Z4 (D)"))
    read = read_elements("\n".join(lines), "mine.txt")
    things = moving_objects(read.bodies, Instants.from_datetime(NIGHT))
    orbits = [thing.orbit for thing in things]
    doubts = [doubts_of(orbit) for orbit in orbits if orbit is not None]
    assert [[d.kind for d in some] for some in doubts] == [
        [], [OrbitDoubtKind.OLD], [OrbitDoubtKind.NO_EPOCH], [OrbitDoubtKind.OLD],
    ]  # fmt: skip
    assert doubts[1][0].age_days == pytest.approx(now_jd() - EPOCH_JD + 200.0)


def test_an_approach_to_the_earth_is_told() -> None:
    """A made-up body that crosses the Earth's way where the Earth is then."""
    from axletree.sky.orbits.two_body import elements_of, heliocentric
    from axletree.sky.positions.ephemeris import load_ephemeris

    kernel = load_ephemeris()
    at = EPOCH_JD + 10.0
    one = np.array([at])
    earth = kernel.barycentric_au("earth", one, 0.0 * one) - kernel.barycentric_au(
        "sun", one, 0.0 * one
    )
    ecliptic = float(np.degrees(np.arctan2(earth[0, 1] / 0.917482, earth[0, 0]))) % 360.0
    size = float(np.linalg.norm(earth))
    # At its perihelion there, faster than the Earth, a little farther out.
    made = Made(size + 0.03, 0.5, 0.0, ecliptic, 5.0, at, EPOCH_JD, 20.0, 0.15)
    read = read_elements(minor_planet_line(made, 9005, "Near"), "mine.txt")
    place, _ = heliocentric(elements_of([read.bodies[0].orbit]), one)
    assert np.linalg.norm(place[0, 0] - earth[0]) < 0.05
    [thing] = moving_objects(read.bodies, Instants.from_tt_jd(EPOCH_JD + 30.0))
    assert thing.orbit is not None
    [doubt] = doubts_of(thing.orbit)
    assert doubt.kind is OrbitDoubtKind.APPROACH
    assert doubt.planet == "earth"
    assert doubt.distance_au == pytest.approx(0.03, abs=0.02)


def test_a_comet_glows_and_a_minor_planet_is_a_point() -> None:
    from axletree.evening.seeing.visibility import EXTENDED, POINT

    now = Instants.from_datetime(NIGHT)
    comet = moving_objects(read_elements(COMETS, "mine.txt").bodies, now)[0]
    stone = moving_objects(read_elements(STONES, "mine.txt").bodies, now)[0]
    looks = looks_of(comet)
    assert looks.sort[0] == EXTENDED
    assert looks.half_light_arcmin[0] == pytest.approx(looks.major_arcmin[0] / 2.0)
    assert looks_of(stone).sort[0] == POINT


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert main([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_commands_take_it_as_every_other_object(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    kit_with(tmp_path, comets=COMETS + "rubbish\n", stones=STONES)
    monkeypatch.chdir(tmp_path)
    at = ("--at", "2026-12-05T19:00")
    where = told(capsys, "where", "C/2026 Z9", *at)
    pointed = told(capsys, "point", "2026 Z9", *at)
    found = told(capsys, "find", "C/2026 Z9", *at)
    followed = told(capsys, "follow", "C/2026 Z9", *at)
    assert {where["kind"], found["kind"]} == {"comet"}
    assert pointed["declination_deg"] == pytest.approx(where["declination_deg"], abs=1e-4)
    assert found["orbit"]["doubts"] == []
    assert pointed["orbit"]["coma_factor"] == 2.0
    assert followed["object"] == "C/2026 Z9 (Madeup)"
    listed = told(capsys, "objects", "--date", "2026-12-05", "--kind", "comets")
    assert listed["objects"][0]["name"] == "C/2026 Z9 (Madeup)"
    assert listed["objects"][0]["orbit"]["magnitude_sigma"] == 1.0
    assert listed["broken_lines"] == [3]


def test_the_evening_shows_it_and_keeps_it_when_it_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    # High in the south-east, where both tube sides are free.
    high = Made(2.15, 0.09, 151.0, 234.0, 7.1, 2461330.5, EPOCH_JD - 200.0, 2.0, 4.0)
    kit_with(tmp_path, comets=comet_line(high))
    file = tmp_path / "axletree.toml"
    kit = file.read_text(encoding="utf-8")
    wanted = kit.replace("[habits]", '[habits]\nmust_see = ["C/2026 Z9"]', 1)
    file.write_text(wanted, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    sheet = told(capsys, "evening", "--date", "2026-12-05", "--out", "out")
    [stop] = [s for s in sheet["stops"] if s["kind"] == "comet"]
    assert stop["caution_codes"] == ["elements_old"]
    assert stop["right_ascension_j2000_h"] is None
    assert stop["orbit"]["doubts"][0]["age_days"] > 200.0


def test_its_year_follows_its_light() -> None:
    """J. Meeus ch. 33: with k = 4 it is 10 log r fainter than with k = 0, on every night."""
    from axletree.evening.year.best_nights import best_nights
    from axletree.sky.positions.orbiting import orbit_sights

    kit, _ = check_text(demo_text())
    assert kit is not None
    observer, now = observer_of(kit.site), Instants.from_datetime(NIGHT)
    rows = "\n".join(
        comet_line(replace(BRIGHT, slope=k), f"C/2026 Z{n} (Madeup)")
        for n, k in ((1, 4.0), (2, 0.0))
    )
    things = moving_objects(read_elements(rows, "mine.txt").bodies, now)
    first, last = date(2026, 12, 1), date(2026, 12, 20)
    flat = Horizon(np.array([0.0, 360.0]), np.zeros(2))
    years = [best_nights(kit, observer, thing, first, last, flat) for thing in things]
    found = 0
    for four, none in zip(years[0].nights, years[1].nights, strict=True):
        if four.best is None or four.best != none.best or not np.isfinite(four.margin_mag):
            continue
        assert things[0].orbit is not None
        r = orbit_sights([things[0].orbit], Instants.from_datetime(four.best)).from_sun_au[0, 0]
        # The catalogue's magnitudes are rounded to 0.01.
        assert none.margin_mag - four.margin_mag == pytest.approx(10.0 * np.log10(r), abs=0.03)
        found += 1
    assert found > 10
