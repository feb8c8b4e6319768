"""Figures of the polar axis that a person can reckon by hand, and defaults as they are told.

Sources beside each; where a figure is of the trade: common practice, no source.
"""

from __future__ import annotations

import sys
from contextlib import nullcontext
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from PIL import Image
from scipy.stats import chi2

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import star_places
from axletree.pole.correct.advice import advise
from axletree.pole.correct.after_turning import Base, expected_drift
from axletree.pole.correct.next_star import next_drift
from axletree.pole.enough.movement import worst_movement_arcsec
from axletree.pole.enough.of_kit import rough_of_kit
from axletree.pole.enough.rough import RoughStep
from axletree.pole.enough.still_point import placing_sigma_arcmin, point_sigma_arcmin
from axletree.pole.photographs.axis import with_clock
from axletree.pole.photographs.lens import Lens, places
from axletree.pole.photographs.refusals import too_low
from axletree.pole.picture_files.exif import taken_from_exif
from axletree.pole.picture_files.fits_pixels import without_mosaic
from axletree.pole.picture_files.other_formats import read_raw
from axletree.pole.readings.pointing import NotedReadings
from axletree.pole.rows.reading import moments_of_evening
from axletree.pole.solution.candidates import MeasurableStars
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

HERE = Observer(45.0, 10.0)
TWO_STARS = MeasurableStars(
    ("One", "Two"), np.array([0.1, -5.0]), np.array([10.0, 20.0]), np.array([180.0, 90.0]),
    np.array([60.0, 30.0]), np.array([1, 2]), np.array([1.0, 2.0]),
)  # fmt: skip


@pytest.mark.parametrize("probability", [0.393, 0.95])
def test_the_drawn_ellipse_lies_where_chi_square_says(probability: float) -> None:
    """Two degrees of freedom, by scipy; the first column is east, the second high."""
    covariance = np.array([[36.0, -14.0], [-14.0, 9.0]])  # high, east
    estimate = AxisEstimate(12.0, -40.0, np.linalg.inv(covariance))
    outline = estimate.outline(probability)
    assert outline is not None
    off = outline[:, ::-1] - [12.0, -40.0]
    away = np.einsum("ni,ij,nj->n", off, estimate.information, off)
    np.testing.assert_allclose(away, chi2.ppf(probability, 2), rtol=1e-9)


def test_a_drift_test_is_watched_for_whole_minutes() -> None:
    """By a watch; never under two (common practice, no source)."""
    known = np.diag([1.0 / 50.0**2, 1.0 / 0.5**2])
    watches = {
        next_drift(known, [-5.5], [10.0], 1.0, wanted, HERE).watch_s
        for wanted in np.geomspace(0.2, 50.0, 40)
    }
    assert min(watches) == 120.0
    assert len(watches) >= 5
    assert all(watch % 60.0 == 0.0 for watch in watches)


def test_a_turn_is_proved_by_five_minutes_of_drift() -> None:
    """Common practice, no source."""
    found = AxisEstimate(30.0, -50.0, np.eye(2) * 4.0)
    told = advise(found, demo_kit("courtyard"), Base(HERE), TWO_STARS, good_arcmin=5.0)
    assert told.proof_star is not None
    assert told.proof_star.watched_s == 5 * 60.0


def test_a_turn_of_the_bolts_may_be_a_tenth_off() -> None:
    """Common practice, no source: of an error that is known exactly a tenth may be left, and with
    it a tenth of its drift."""
    known = AxisEstimate(60.0, 0.0, np.eye(2) * 1e6)  # to 0.001'
    told = expected_drift(known, -6.0, 10.0, 300.0, HERE)
    moved = abs(told.before_arcsec - told.after_arcsec)
    assert told.sigma_arcsec == pytest.approx(moved / 10.0, rel=0.02)


def test_a_clock_half_a_minute_off_turns_the_axis_about_the_pole() -> None:
    """The sky turns by 7.5 arcminutes in half a minute: 0.219 % of the offset, square to it."""
    known = AxisEstimate(0.0, 60.0, np.eye(2) * 1e6)  # to 0.001'
    by_clock = with_clock(known)
    assert by_clock.high_sigma_arcmin == pytest.approx(
        60.0 * np.radians(15.041 * 30 / 3600), rel=1e-3
    )
    assert by_clock.east_sigma_arcmin == pytest.approx(0.001, rel=1e-6)


def test_a_bubble_is_brought_to_half_a_division() -> None:
    """Common practice, no source. A lean towards the pole lifts the axis by as much."""
    kit = demo_kit("courtyard")
    target: Any = SimpleNamespace(altitude_deg=45.0)
    setting: Any = SimpleNamespace(sigma_deg=1.0)
    rough = rough_of_kit(kit, target, setting, 0.5)
    (level,) = (error for error in rough.errors if error.step is RoughStep.LEVEL)
    division = kit.mount.tripod.bubble_arcmin_per_division
    assert level.high_arcmin == pytest.approx(division / 2.0)


def test_the_point_that_stands_still_is_seen_to_a_fiftieth_of_the_field() -> None:
    """A degree holds sixty arcminutes; the star beside it is put to a hundredth of the field and a
    tenth of its distance (estimates of ours, no source)."""
    assert point_sigma_arcmin(1.0) == pytest.approx(60.0 / 50.0)
    assert placing_sigma_arcmin(1.0, 0.0) == pytest.approx(60.0 / 100.0)
    assert placing_sigma_arcmin(1e-9, 40.0) == pytest.approx(4.0)


def test_what_is_left_out_is_nothing() -> None:
    """Defaults: the middle of the picture, a picture that isn't turned, readings as noted."""
    middle = worst_movement_arcsec(5.0, 60.0, 900.0)
    assert middle == worst_movement_arcsec(5.0, 60.0, 900.0, radius_deg=0.0)
    noted = NotedReadings(np.zeros(6), np.eye(6), ())
    assert noted.widened_by(2.0).widened == 2.0
    assert noted.widened_by(2.0).sigmas == pytest.approx(2.0)
    moments = [datetime(2026, 12, 5, 21, tzinfo=UTC)]
    target = pole_target(HERE)
    (plain,) = star_places(HERE, moments, target)
    (turned,) = star_places(HERE, moments, target, rotation_deg=0.0)
    assert plain == turned


def test_a_lens_that_bends() -> None:
    """By hand: half a focal length off the middle, r^2 = 1/4: 1 + 0.1/4 + 0.02/16 times as far."""
    lens = Lens(2000.0, (999.5, 499.5), bend=0.1, bend4=0.02)
    part = 0.1 / 4.0 + 0.02 / 16.0
    assert lens.bend_at(1000.0) == pytest.approx(part)
    seen = places(lens, np.array([0.5, 0.0, 1.0]))
    np.testing.assert_allclose(seen, [999.5 + 1000.0 * (1.0 + part), 499.5])


@pytest.mark.parametrize(("altitude", "word"), [(3.2, "3° above"), (-3.2, "3° below")])
def test_on_which_side_of_the_horizon_a_picture_looks(altitude: float, word: str) -> None:
    assert word in str(too_low("a.jpg", altitude))


def test_colours_are_averaged_over_the_mosaic() -> None:
    """Four pixels hold all colours (B. Bayer, US patent 3,971,065, 1976): their plain mean."""
    grey = np.random.default_rng(3).uniform(0, 4000, (7, 9)).astype(np.float32)
    four = (grey[:-1, :-1] + grey[1:, :-1] + grey[:-1, 1:] + grey[1:, 1:]) / 4.0
    np.testing.assert_allclose(without_mosaic(grey)[:-1, :-1], four, rtol=1e-5)


@pytest.mark.parametrize(
    ("per_unit", "unit", "pixel_um"),
    [(5080.0, 2, 5.0), (2500.0, 3, 4.0), (100000.0, 2, None), (400.0, 2, None), (500.0, 9, None)],
)
def test_pixels_by_their_number_on_the_sensor(
    per_unit: float, unit: int, pixel_um: float | None
) -> None:
    """EXIF 2.32 (CIPA DC-008), tags A20E and A210: pixels an inch (2) or a centimetre (3). Pixels
    of 0.25 and of 63.5 micrometres are in no camera (common practice, no source)."""
    exif = Image.Exif()
    block = exif.get_ifd(0x8769)
    block[0xA20E], block[0xA210] = per_unit, unit
    told = taken_from_exif(exif).pixel_um
    assert told == (None if pixel_um is None else pytest.approx(pixel_um))


def test_a_raw_file_of_too_many_pixels_is_refused_before_it_is_unpacked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Its width by its height: 20,000 by 6,000 are 120 million."""
    light = np.broadcast_to(np.uint16(0), (6000, 20_000))
    raw = nullcontext(SimpleNamespace(raw_image_visible=light))
    library = SimpleNamespace(imread=lambda file: raw, LibRawError=ValueError)
    monkeypatch.setitem(sys.modules, "rawpy", library)  # type: ignore[arg-type]
    with pytest.raises(AxletreeError, match="20000 x 6000"):
        read_raw(Path("a.nef"))


@pytest.mark.parametrize(("now", "evening"), [("11T01:00", 10), ("10T23:00", 10), ("10T11:30", 9)])
def test_an_evening_lasts_from_noon_to_noon(now: str, evening: int) -> None:
    """Common practice of observers' records, no source. In Lisbon's summer time."""
    zone = ZoneInfo("Europe/Lisbon")
    moment = moments_of_evening(datetime.fromisoformat(f"2026-10-{now}").replace(tzinfo=zone), zone)
    assert moment("21:00") == datetime(2026, 10, evening, 21, tzinfo=zone)
    assert moment("00:30") == datetime(2026, 10, evening + 1, 0, 30, tzinfo=zone)
