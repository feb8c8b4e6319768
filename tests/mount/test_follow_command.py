"""`axletree follow`: knobs, eyepieces, motors and the comparison, as text and JSON."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest

from axletree.cli import main
from axletree.kit.kit import demo_kit
from axletree.sky.catalogue.objects import find
from axletree.stages.target.follow import FollowRequest, follow
from axletree.tell.follow.data import follow_data
from axletree.tell.follow.text import follow_text

AT = ("--at", "2026-08-12T23:00")


def _run(capsys, *words):
    status = main(["follow", *words])
    shown = capsys.readouterr()
    return status, shown.out, shown.err


def _report(name="courtyard", thing="Vega", gears=None, **extra):
    kit = demo_kit(name)
    if gears:
        part = kit.mount.gears.model_copy(update=gears)
        kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"gears": part})})
    at = datetime(2026, 8, 13, 22, 4, 48, tzinfo=UTC) if thing else None
    return follow(kit, FollowRequest(find(thing) if thing else None, at, **extra))


def test_json_has_the_published_figures(capsys):
    status, out, _ = _run(capsys, "--kit", "courtyard", "--json")
    assert status == 0
    data = json.loads(out)
    # 86164.0905 s over 144 teeth.
    assert data["seconds_per_knob_turn"] == pytest.approx(598.362, abs=0.002)
    assert data["drive_rates_arcsec_per_s"]["lunar"] == pytest.approx(14.4921, abs=0.0005)
    for row, field in zip(data["eyepieces"], (52 / 30, 52 / 75, 60 / 125), strict=True):
        assert row["true_field_deg"] == pytest.approx(field)
        # t = FOV / (15.0370" s^-1) on the equator, through air; 0.1 per cent for exact arcs.
        assert row["drift_time_s"] == pytest.approx(field * 3600 / 15.0370, rel=1e-3)


def test_text_fits_the_page(capsys):
    for words in ((), ("Vega", *AT, "--compare"), ("Moon", *AT), ("Sun", *AT)):
        for kit in ("courtyard", "paddock"):
            status, out, _ = _run(capsys, *words, "--kit", kit)
            assert status == 0
            assert max(len(line) for line in out.splitlines()) <= 80, out


def test_knob_turns_the_other_way_in_the_south():
    north, south = _report("courtyard"), _report("paddock")
    assert north.knob.clockwise
    assert not south.knob.clockwise
    assert "hour knob clockwise" in " ".join(follow_text(north).split())
    assert "anticlockwise goes west" in " ".join(follow_text(south).split())


def test_compare_near_the_zenith_and_far_from_it():
    # Vega at 38.8 deg passes 0.2 deg from the courtyard's zenith (38.57 deg).
    near = _report(compare=True).comparison
    assert near.crossing.closest_deg == pytest.approx(0.24, abs=0.02)
    assert near.crossing.top_azimuth_arcsec_per_s > 2500
    far = _report(thing="Antares", compare=True).comparison
    assert far.crossing.behind_s == 0
    words = " ".join(follow_text(_report(compare=True)).split())
    assert "one axis" in words
    assert "around the zenith it falls behind" in words


def test_the_moon_is_slower_and_drifts():
    moon, star = _report("paddock", "Moon"), _report("paddock", "Vega")
    assert moon.rates.true < 14.8 < star.rates.true
    assert moon.drive.rate in ("lunar", "solar", "sidereal")
    assert moon.place.diameter_deg == pytest.approx(0.52, abs=0.04)
    assert star.place.diameter_deg == 0.0


def test_below_the_horizon_is_said():
    report = _report("courtyard", "sigma Octantis")
    assert not report.above
    assert "below the horizon" in follow_text(report)
    assert follow_data(report)["rate_refracted_arcsec_per_s"] is None


def test_ungeared_axes_and_arms_still_answer():
    bare = _report(gears={"hour_geared": False, "declination_geared": False})
    words = " ".join(follow_text(bare).split())
    assert "no slow motion on its hour axis" in words
    assert "Declination has no slow motion" in words
    data = follow_data(bare)
    assert data["seconds_per_knob_turn"] is None
    assert data["declination_knob"] is None
    assert data["eyepieces"][0]["drift_time_s"] > 0
    arm = _report(gears={"declination_arm": True, "declination_arm_range_deg": 12.0})
    words = " ".join(follow_text(arm).split())
    assert "reaches 12.0°" in words
    assert "turns not counted" in words


def test_backlash_is_told():
    report = _report(gears={"hour_backlash_deg": 30.0, "declination_backlash_deg": 20.0})
    words = " ".join(follow_text(report).split())
    # A twelfth of 598.36 s; an eighteenth of 2.5 deg.
    assert "30° of the knob move nothing, 50 s of sky" in words
    assert "8.3′ of sky" in words


def test_a_motor_with_periodic_error_limits_exposures():
    report = _report("paddock", "Canopus", gears={"periodic_error_arcsec": 20.0})
    assert report.camera.periodic_worst_s < report.camera.periodic_best_s
    words = " ".join(follow_text(report).split())
    assert "at the worm's worst" in words
    silent = " ".join(follow_text(_report("paddock", "Canopus")).split())
    assert "periodic error is not in the kit" in silent


def test_never_is_null():
    data = follow_data(_report("courtyard", None, keep=1.0))
    assert data["object"] is None
    json.dumps(data, allow_nan=False)


@pytest.mark.parametrize(
    "words",
    [("Nowhere",), ("--keep", "3"), ("--keep", "nan"), ("Vega", "--at", "noon"), ("--keep", "x")],
)
def test_bad_input_is_one_line_and_status_two(capsys, words):
    try:
        status = main(["follow", *words])
    except SystemExit as stop:  # the argument parser's own way
        status = stop.code
    shown = capsys.readouterr()
    assert status == 2
    assert shown.out == ""
    assert shown.err.count("\n") == 1


def test_the_sun_is_never_without_its_caution():
    assert "Never look at the Sun" in follow_text(_report(thing="Sun"))
    assert any("Sun" in c for c in follow_data(_report(thing="Sun"))["cautions"])
