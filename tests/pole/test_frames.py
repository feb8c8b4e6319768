"""The frame solver against the simulator and astropy, which share no code with it."""

from __future__ import annotations

import warnings

import camera
import numpy as np
import pytest
import simulator as sim
from astropy import units as u
from astropy.io import fits
from astropy.time import Time
from astropy.wcs import WCS

from axletree.kit.errors import AxletreeError
from axletree.pole.frames.attitude import circle_centre
from axletree.pole.frames.solve import axis_from_frames, solve_frames
from axletree.pole.picture.fits_header import read_headers
from axletree.pole.picture.frame_file import exposure_middle, frame_from_headers, read_frame
from axletree.pole.picture.wcs import directions, longitude_latitude, read_wcs
from axletree.sky.observer import Observer

NOMINAL = np.array([68.27, 95.0, 68.27, 95.0])
LONGITUDE, ELEVATION = -7.9, 290.0
START = "2026-11-20T21:00:00"


def observer_at(place: sim.Place) -> Observer:
    return Observer(
        place.latitude_deg, LONGITUDE, ELEVATION, pressure_hpa=place.pressure_hpa,
        temperature_c=place.temperature_c,
    )  # fmt: skip


def error_arcsec(found, place):
    return (found.estimate.values - [place.high_arcmin, place.east_arcmin]) * 60.0


def random_run(rng):
    """A site, where the tube looks and to which hour angles it is turned; all well up."""
    while True:
        place = sim.random_place(rng, 90.0, least_latitude_deg=25.0)
        hours = np.sort(rng.uniform(-4.0, 4.0, int(rng.integers(2, 5))))
        dec = rng.uniform(-20.0, 89.9) * (-1.0 if place.south else 1.0)
        up = sim.star(hours, dec, place.latitude_deg)[:, 2]
        if up.min() > np.sin(np.radians(30.0)) and np.ptp(hours) > 1.0:
            return place, hours, dec, rng.uniform(0.0, 360.0)


def test_whole_chain_without_noise_within_two_arcseconds():
    """From the mount's turn to a plate-solved header and back, sky positions by astropy."""
    rng = np.random.default_rng(31)
    worst = 0.0
    for _ in range(60):
        place, hours, dec, roll = random_run(rng)
        start = Time("2026-01-01T00:00:00") + rng.uniform(0.0, 365.0) * u.day
        headers = camera.frame_headers(
            place, LONGITUDE, ELEVATION, hours, dec, start, roll_deg=roll,
            scale_arcsec=rng.uniform(1.0, 4.0), drive=bool(rng.integers(2)),
        )  # fmt: skip
        frames = [frame_from_headers([h], f"f{k}") for k, h in enumerate(headers)]
        found = axis_from_frames(frames, observer_at(place))
        worst = max(worst, float(np.max(np.abs(error_arcsec(found, place)))))
    assert worst < 2.0


def test_thousand_axes_unbiased_and_error_bars_hold():
    rng = np.random.default_rng(20263)
    across, about = 2.0, 40.0
    errors, covariances, pulls = [], [], []
    for _ in range(1000):
        place, hours, dec, roll = random_run(rng)
        noise = rng.normal(0.0, 1.0, (len(hours), 3)) * [about, across, across] * camera.ARCSEC
        seen = camera.seen_pixels(place, hours, dec, 2.0, roll, noise)
        found = solve_frames(
            seen, observer_at(place), across_sigma_arcsec=across, about_sigma_arcsec=about
        )
        if found.widened > 1.0 or found.left_out:
            continue
        errors.append(error_arcsec(found, place) / 60.0)
        covariances.append(found.estimate.covariance)
        pulls.append(errors[-1] / np.sqrt(np.diag(covariances[-1])))
    assert len(errors) > 980
    assert np.all(np.abs(np.mean(pulls, axis=0)) < 3.0 / np.sqrt(len(pulls)))
    assert np.all(np.abs(sim.coverage(errors, covariances) - NOMINAL) < 3.0)


@pytest.mark.parametrize("latitude", [42.0, -44.0])
@pytest.mark.parametrize("off_pole_deg", [0.0, 0.02, 0.5])
@pytest.mark.parametrize("drive", [False, True])
def test_at_the_pole_where_right_ascension_means_nothing(latitude, off_pole_deg, drive):
    place = sim.Place(latitude, 930.0, 8.0, 25.0, -14.0)
    headers = camera.frame_headers(
        place, LONGITUDE, ELEVATION, [-4.0, -1.0, 2.0], np.sign(latitude) * (90.0 - off_pole_deg),
        START, roll_deg=77.0, drive=drive,
    )  # fmt: skip
    frames = [frame_from_headers([h], f"f{k}") for k, h in enumerate(headers)]
    found = axis_from_frames(frames, observer_at(place))
    assert np.all(np.abs(error_arcsec(found, place)) < 1.0)
    expected = np.array([0.0, 3.0, 6.0])
    if drive:
        expected += np.array([0.0, 120.0, 240.0]) * sim.SIDEREAL / 3600.0
    assert found.turned_h == pytest.approx(expected, abs=0.001)


def test_drive_alone_turns_enough_in_an_hour():
    place = sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)
    headers = camera.frame_headers(
        place, LONGITUDE, ELEVATION, [0.5, 0.5], 60.0, START, every_s=3600.0, drive=True
    )
    frames = [frame_from_headers([h], f"f{k}") for k, h in enumerate(headers)]
    found = axis_from_frames(frames, observer_at(place))
    assert np.all(np.abs(error_arcsec(found, place)) < 2.0)
    assert found.turned_h[1] == pytest.approx(sim.SIDEREAL, abs=0.001)


@pytest.mark.parametrize("odd", [0, 2, 4])
def test_a_frame_of_another_run_is_named(odd):
    place = sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)
    rng = np.random.default_rng(2)
    noise = rng.normal(0.0, 1.0, (5, 3)) * camera.ARCSEC
    seen = camera.seen_pixels(place, [-3, -1.5, 0, 1.5, 3], 50.0, 2.0, 30.0, noise)
    moved = camera.seen_pixels(place, [0.7], 50.6, 2.0, 30.0)
    seen[odd] = moved[0]
    found = solve_frames(seen, observer_at(place), across_sigma_arcsec=1.0, about_sigma_arcsec=20.0)
    assert found.left_out == (odd,)
    sigmas = 60.0 * np.sqrt(np.diag(found.estimate.covariance))
    assert np.all(np.abs(error_arcsec(found, place)) < 4.0 * sigmas)


def test_of_three_frames_the_one_with_another_declination_is_named():
    place = sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)
    seen = camera.seen_pixels(place, [-3, 0, 3], 50.0, 2.0, 30.0)
    seen[1] = camera.seen_pixels(place, [0.0], 70.0, 2.0, 30.0)[0]
    found = solve_frames(seen, observer_at(place), across_sigma_arcsec=1.0, about_sigma_arcsec=20.0)
    assert found.left_out == (1,)


# --- files -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def place():
    return sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)


@pytest.fixture(scope="module")
def good(place):
    return camera.frame_headers(place, LONGITUDE, ELEVATION, [-2.0, 1.0], 55.0, START)


def write(folder, name, header, data=None):
    path = folder / name
    if data is None:
        data = np.zeros((header["NAXIS2"], header["NAXIS1"]), np.uint8)
    held = fits.Header({k: v for k, v in header.items() if not k.startswith("NAXIS")})
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fits.PrimaryHDU(data, held).writeto(path, overwrite=True)
    return path


def test_files_written_by_astropy(tmp_path, place, good):
    paths = [write(tmp_path, f"f{k}.fits", h) for k, h in enumerate(good)]
    found = axis_from_frames([read_frame(p) for p in paths], observer_at(place))
    assert np.all(np.abs(error_arcsec(found, place)) < 2.0)
    # Packed, in a second part of the file, and tile-compressed: the same answer.
    packed = tmp_path / "f0.fits.gz"
    with fits.open(paths[0]) as held:
        held.writeto(packed)
        second = fits.HDUList([fits.PrimaryHDU(), fits.ImageHDU(held[0].data, held[0].header)])
        second.writeto(tmp_path / "second.fits")
        tiles = fits.HDUList([fits.PrimaryHDU(), fits.CompImageHDU(held[0].data, held[0].header)])
        tiles.writeto(tmp_path / "tiles.fits")
    for other in (packed, tmp_path / "second.fits", tmp_path / "tiles.fits"):
        again = axis_from_frames([read_frame(other), read_frame(paths[1])], observer_at(place))
        assert again.estimate.values == pytest.approx(found.estimate.values, abs=1e-6)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (dict.fromkeys(("CTYPE1", "CTYPE2", "CRVAL1", "CD1_1")), "no WCS"),
        ({"DATE-OBS": None}, "no time in its header"),
        ({"DATE-OBS": "yesterday"}, "not a date and time"),
        ({"CTYPE1": "RA---MOL", "CTYPE2": "DEC--MOL"}, "projection MOL"),
        ({"CD1_1": 0.0, "CD1_2": 0.0}, "missing or singular"),
        ({"RADESYS": "BARYCENTRE"}, "RADESYS"),
        ({"TIMESYS": "MOONTIME"}, "TIMESYS"),
        ({"EXPTIME": -5.0}, "makes no sense"),
    ],
)
def test_a_bad_header_is_refused_in_one_line_with_the_file_name(tmp_path, good, change, words):
    header = {k: v for k, v in {**good[1], **change}.items() if v is not None}
    path = write(tmp_path, "second.fits", header)
    with pytest.raises(AxletreeError, match=words) as refused:
        read_frame(path)
    assert "second.fits" in str(refused.value)
    assert "\n" not in str(refused.value)


def with_scale(header, factor):
    return {**header, **{k: header[k] * factor for k in ("CD1_1", "CD1_2", "CD2_1", "CD2_2")}}


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda g: [g[0]], "one frame shows no turn"),
        (lambda g: [g[0], g[0]], "look the same way"),
        (lambda g: [g[0], with_scale(g[1], 1.3)], "arcsec a pixel"),
        (lambda g: [g[0], {**g[1], "NAXIS1": 600}], "600 x 800 pixels"),
        (lambda g: [g[0], {**g[1], "CD1_1": -g[1]["CD1_1"], "CD1_2": -g[1]["CD1_2"]}], "mirrored"),
        (lambda g: [g[0], {**g[1], "DATE-OBS": "2026-11-23T21:02:00"}], "72 h away"),
        (lambda g: [{**g[0], "INSTRUME": "A"}, {**g[1], "INSTRUME": "B"}], "taken with 'B'"),
        (lambda g: [g[0], {**g[1], "CRVAL2": g[1]["CRVAL2"] - 40.0}], "from the pole"),
    ],
)
def test_frames_that_are_not_of_one_run_are_refused(place, good, make, words):
    frames = [frame_from_headers([h], f"f{k}.fits") for k, h in enumerate(make(good))]
    with pytest.raises(AxletreeError, match=words):
        axis_from_frames(frames, observer_at(place))


def test_a_frame_below_the_horizon_is_refused(good):
    frames = [frame_from_headers([h], f"f{k}.fits") for k, h in enumerate(good)]
    with pytest.raises(AxletreeError, match="below the horizon at its time"):
        axis_from_frames(frames, Observer(-42.0, LONGITUDE, ELEVATION))


def test_damaged_files(tmp_path, good):
    whole = write(tmp_path, "whole.fits", good[0])
    cut = tmp_path / "cut.fits"
    cut.write_bytes(whole.read_bytes()[:1000])
    text = tmp_path / "notes.fits"
    text.write_text("not a frame")
    packed = tmp_path / "half.fits.gz"
    import gzip

    packed.write_bytes(gzip.compress(whole.read_bytes())[:200])
    empty = tmp_path / "empty.fits"
    empty.write_bytes(b"")
    for path in (cut, text, packed, empty, tmp_path / "none.fits", tmp_path):
        with pytest.raises(AxletreeError) as refused:
            read_frame(path)
        assert "\n" not in str(refused.value)


# --- the reader against astropy's own -----------------------------------------------------------


def agree(header: dict, tolerance_arcsec: float, width=1200, height=800):
    """Our directions and astropy's for the same header, over the whole frame."""
    held = {"SIMPLE": True, "NAXIS": 2, "NAXIS1": width, "NAXIS2": height, **header}
    mine = read_wcs(held)
    x, y = np.meshgrid(np.linspace(0, width - 1, 7), np.linspace(0, height - 1, 5))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        sky = WCS(fits.Header(held)).pixel_to_world(x, y).icrs
    theirs = np.stack([sky.cartesian.x.value, sky.cartesian.y.value, sky.cartesian.z.value], -1)
    theirs /= np.linalg.norm(theirs, axis=-1, keepdims=True)
    off = np.linalg.norm(directions(mine, x, y) - theirs, axis=-1)
    assert np.degrees(off.max()) * 3600.0 < tolerance_arcsec


BASE = {
    "CTYPE1": "RA---TAN", "CTYPE2": "DEC--TAN", "CRPIX1": 700.3, "CRPIX2": 301.7,
    "CRVAL1": 83.6, "CRVAL2": -5.4, "RADESYS": "ICRS",
}  # fmt: skip
CD = {"CD1_1": -5.1e-4, "CD1_2": 2.3e-4, "CD2_1": 2.2e-4, "CD2_2": 5.0e-4}


@pytest.mark.parametrize(
    "extra",
    [
        CD,
        {**CD, "CRVAL1": 12.0, "CRVAL2": 90.0},
        {**CD, "CRVAL1": 12.0, "CRVAL2": -90.0},
        {**CD, "CRVAL2": 89.97},
        {**CD, "LONPOLE": 150.0},
        {"CDELT1": -5e-4, "CDELT2": 5e-4, "CROTA2": 33.0},
        {"CDELT1": -5e-4, "CDELT2": 6e-4, "CROTA2": -70.0},
        {"CDELT1": -5e-4, "CDELT2": 5e-4, "PC1_1": 0.8, "PC1_2": -0.6, "PC2_1": 0.6, "PC2_2": 0.8},
        {"CDELT1": -5e-4, "CDELT2": 5e-4, "PC1_2": 0.1},
        {**CD, "CTYPE1": "DEC--TAN", "CTYPE2": "RA---TAN", "CRVAL1": -5.4, "CRVAL2": 83.6},
        {**CD, "CTYPE1": "GLON-TAN", "CTYPE2": "GLAT-TAN"},
        {**CD, "RADESYS": "FK5", "EQUINOX": 2000.0},
        {**CD, "RADESYS": "FK5", "EQUINOX": 2026.9},
        {**CD, **{f"CTYPE{k}": c for k, c in ((1, "RA---SIN"), (2, "DEC--SIN"))}},
        {**CD, **{f"CTYPE{k}": c for k, c in ((1, "RA---STG"), (2, "DEC--STG"))}},
        {**CD, **{f"CTYPE{k}": c for k, c in ((1, "RA---ARC"), (2, "DEC--ARC"))}},
        {**CD, **{f"CTYPE{k}": c for k, c in ((1, "RA---ZEA"), (2, "DEC--ZEA"))}},
    ],
)
def test_wcs_forms_against_astropy(extra):
    # astropy ties galactic coordinates to FK5, ERFA to ICRS: 0.023" apart. It precesses FK5 with
    # IAU 2006, we with FK5's own IAU 1976: 0.003" a year, 0.07" in 2026.
    tolerance = 1e-6
    if "GLON" in extra.get("CTYPE1", ""):
        tolerance = 0.03
    if extra.get("RADESYS") == "FK5":
        tolerance = 2e-3 if extra["EQUINOX"] == 2000.0 else 0.1
    agree({**BASE, **extra}, tolerance)


def test_sip_and_tpv_against_astropy():
    rng = np.random.default_rng(7)
    sip = {"A_ORDER": 4, "B_ORDER": 3}
    for letter, order in (("A", 4), ("B", 3)):
        for p in range(order + 1):
            for q in range(order + 1 - p):
                if p + q >= 2:
                    sip[f"{letter}_{p}_{q}"] = rng.normal() * 10.0 ** (-3.2 * (p + q) + 1.0)
    named = {"CTYPE1": "RA---TAN-SIP", "CTYPE2": "DEC--TAN-SIP"}
    agree({**BASE, **CD, **named, **sip}, 1e-6)
    tpv = {"CTYPE1": "RA---TPV", "CTYPE2": "DEC--TPV"}
    for axis in (1, 2):
        tpv[f"PV{axis}_1"] = 1.0 + 1e-3 * rng.normal()
        for m in (0, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12, 16, 17, 22, 23, 31, 38, 39):
            tpv[f"PV{axis}_{m}"] = 2e-3 * rng.normal()
    agree({**BASE, **CD, **tpv}, 1e-6)


def test_the_header_reader_against_astropy(tmp_path):
    header = fits.Header()
    header["OBSERVER"] = "it's a name / not a comment"
    header["FLOATS"] = -1.25e-7
    header["WHOLE"] = 42
    header["YES"] = True
    header["LONGTEXT"] = "x" * 150 + "end"
    header["EMPTY"] = ""
    path = tmp_path / "h.fits"
    fits.HDUList(
        [fits.PrimaryHDU(np.zeros((3, 5), np.int16), header), fits.ImageHDU(np.zeros(7))]
    ).writeto(path)
    mine = read_headers(path)
    assert len(mine) == 2
    for word in ("OBSERVER", "FLOATS", "WHOLE", "YES", "LONGTEXT", "EMPTY"):
        assert mine[0][word] == header[word]
    assert mine[1]["NAXIS1"] == 7


@pytest.mark.parametrize(
    ("header", "middle_utc"),
    [
        ({"DATE-OBS": "2026-11-20T21:00:00", "EXPTIME": 10.0}, "2026-11-20T21:00:05"),
        ({"DATE-OBS": "2026-11-20T21:00:00.5Z", "EXPOSURE": 1}, "2026-11-20T21:00:01"),
        ({"DATE-AVG": "2026-11-20T21:00:05", "DATE-OBS": "2026-11-20T20:00:00"}, None),
        ({"DATE-BEG": "2026-11-20T21:00:00", "DATE-END": "2026-11-20T21:00:10"}, None),
        ({"DATE-OBS": "2026-11-20", "TIME-OBS": "21:00:05"}, None),
        ({"MJD-OBS": 61364.875, "XPOSURE": 10.0}, None),
        ({"MJD-AVG": 61364.875 + 5 / 86400}, None),
        ({"DATE-AVG": "2026-11-20T21:00:42", "TIMESYS": "TAI"}, None),
        ({"DATE-AVG": "2026-11-20T21:01:14.184", "TIMESYS": "TT"}, None),
        ({"DATE-AVG": "2026-11-20T21:00:23", "TIMESYS": "GPS"}, None),
    ],
)
def test_times_and_time_systems(header, middle_utc):
    """TAI - UTC = 37 s since 2017, TT - TAI = 32.184 s, TAI - GPS = 19 s (IERS; IS-GPS-200)."""
    middle, _, _ = exposure_middle(header)
    expected = Time(middle_utc or "2026-11-20T21:00:05")
    off = (Time(middle.to_datetimes()[0]) - expected).to_value("s")
    assert abs(off) < 0.002


def test_wcs_pixel_zero_is_the_first_pixels_middle():
    wcs = read_wcs({**BASE, **CD, "NAXIS1": 10, "NAXIS2": 10, "CRPIX1": 1.0, "CRPIX2": 1.0})
    lon, lat = longitude_latitude(wcs, 0.0, 0.0)
    assert (float(lon), float(lat)) == pytest.approx((83.6, -5.4), abs=1e-12)


def test_circle_through_many_points():
    rng = np.random.default_rng(12)
    place = sim.Place(50.0, 1000.0, 10.0, 100.0, 70.0)
    seen = camera.seen_pixels(place, rng.uniform(-5, 5, 8), 60.0, 2.0, 0.0)[:, 12]
    centre, radius = circle_centre(seen)
    assert np.degrees(np.arccos(centre @ place.axis)) * 3600.0 < 0.01
    assert radius == pytest.approx(30.0, abs=1e-6)
