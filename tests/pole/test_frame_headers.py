"""What a frame's header says of its size, its equinox and its time, against astropy's readers."""

from __future__ import annotations

import camera
import numpy as np
import pytest
import simulator as sim
from astropy import units as u
from astropy.coordinates import BarycentricMeanEcliptic, SkyCoord
from astropy.time import Time

from axletree.kit.errors import AxletreeError
from axletree.pole.frames.one_run import default_sigmas_arcsec
from axletree.pole.frames.solve import solve_frames
from axletree.pole.picture.fits_header import data_bytes
from axletree.pole.picture.frame_file import exposure_middle, frame_from_headers
from axletree.pole.picture.wcs import directions, longitude_latitude, read_wcs
from axletree.sky.observer import Observer

BASE = {
    "CTYPE1": "RA---TAN", "CTYPE2": "DEC--TAN", "CRPIX1": 600.5, "CRPIX2": 400.5,
    "CRVAL1": 83.6, "CRVAL2": -5.4, "CD1_1": -5e-4, "CD1_2": 0.0, "CD2_1": 0.0, "CD2_2": 5e-4,
}  # fmt: skip
TWO = {"SIMPLE": True, "NAXIS": 2, "NAXIS1": 1200, "NAXIS2": 800}


@pytest.mark.parametrize(
    ("bits", "sizes", "more", "count"),
    [
        (8, [], {}, 0),
        (16, [77], {}, 2 * 77),
        (-64, [30, 20, 3], {}, 8 * 1800),
        (8, [12, 5], {"PCOUNT": 100, "GCOUNT": 1}, 60 + 100),
        # Random groups: the first size is nought and does not count.
        (-32, [0, 10, 4], {"GROUPS": True, "PCOUNT": 5, "GCOUNT": 7}, 4 * 7 * (5 + 40)),
        (-32, [0, 10, 4], {}, 0),
    ],
)
def test_length_of_the_data(bits, sizes, more, count):
    """FITS standard 4.0 (IAU FITS Working Group 2016), equations 1, 2 and 4, by hand."""
    axes = {f"NAXIS{k}": size for k, size in enumerate(sizes, 1)}
    assert data_bytes({"BITPIX": bits, "NAXIS": len(sizes), **axes, **more}) == count


@pytest.mark.parametrize("equinox", [1975.0, 2000.0, 2026.9, 2050.0])
def test_ecliptic_of_date_against_astropy(equinox):
    header = {**TWO, **BASE, "CTYPE1": "ELON-TAN", "CTYPE2": "ELAT-TAN", "EQUINOX": equinox}
    found = directions(read_wcs(header), 599.5, 399.5)
    frame = BarycentricMeanEcliptic(equinox=Time(equinox, format="jyear", scale="tt"))
    theirs = SkyCoord(83.6 * u.deg, -5.4 * u.deg, frame=frame).icrs.cartesian.xyz.value
    # IAU 2006 on both sides: a hundredth of an arcsecond is more than they can differ.
    assert np.degrees(np.linalg.norm(found - theirs)) * 3600.0 < 0.01


def test_size_of_a_header_without_its_picture():
    # The reference pixel is taken as the middle; pixels are counted from 1 (FITS standard, 8.1).
    alone = read_wcs({"NAXIS": 0, **BASE})
    assert (alone.width_px, alone.height_px) == (1200, 800)
    assert read_wcs({"NAXIS": 0, **BASE, "CRPIX2": 0.0}).height_px == 1
    with pytest.raises(AxletreeError, match=r"2e\+06 x 3 pixels"):
        read_wcs({**TWO, **BASE, "NAXIS1": 2000000, "NAXIS2": 3})


def test_a_reference_pixel_of_nought_is_a_place():
    wcs = read_wcs({**TWO, **BASE, "CRPIX1": 0.0, "CRPIX2": 0.0})
    assert longitude_latitude(wcs, -1.0, -1.0) == pytest.approx((83.6, -5.4), abs=1e-9)


def test_a_scale_of_nought_is_refused():
    held = {k: v for k, v in BASE.items() if not k.startswith("CD")}
    with pytest.raises(AxletreeError, match="singular"):
        read_wcs({**TWO, **held, "CDELT1": 0.0, "CDELT2": 5e-4})


def test_a_middle_without_an_exposure():
    middle, seconds, notes = exposure_middle({"DATE-AVG": "2026-11-20T21:00:05"})
    assert middle.to_datetimes()[0].isoformat().startswith("2026-11-20T21:00:05")
    assert (seconds, notes) == (0.0, ())


def test_altitudes_of_the_frames_are_those_of_the_simulator():
    place = sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)
    seen = camera.seen_pixels(place, [-3.0, 0.5, 4.0], 50.0, 2.0, 30.0)
    observer = Observer(42.0, 0.0, pressure_hpa=930.0, temperature_c=8.0)
    found = solve_frames(seen, observer, across_sigma_arcsec=1.0, about_sigma_arcsec=20.0)
    middle = seen[:, 12]  # of 5 by 5
    assert found.altitude_deg == pytest.approx(np.degrees(np.arcsin(middle[:, 2])), abs=0.02)


def test_turn_about_the_line_of_sight_is_as_uncertain_as_the_stars_stand_wide():
    place = sim.Place(42.0, 930.0, 8.0, 25.0, -14.0)
    header = camera.frame_headers(place, -7.9, 290.0, [0.0], 50.0, "2026-11-20T21:00:00")[0]
    frame = frame_from_headers([header], "one")
    across, about = default_sigmas_arcsec(frame)
    assert across == 0.5  # a fifth of 2 arcseconds is less
    wcs = frame.wcs
    stars = np.random.default_rng(4).uniform(-0.5, 0.5, (100_000, 2))
    stars *= [wcs.width_px * frame.scale_arcsec, wcs.height_px * frame.scale_arcsec]
    rms = np.sqrt(np.mean(np.sum(stars**2, axis=1)))
    assert about == pytest.approx(np.degrees(across / rms) * 3600.0, rel=0.01)
