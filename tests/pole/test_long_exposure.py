"""The axis from one exposure in which the hour axis was turned, on simulated ones."""

from __future__ import annotations

import io
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from PIL import Image

from axletree.kit.errors import AxletreeError
from axletree.pole.long_exposure.solve import _spread, axis_from_long_exposure
from axletree.pole.photographs.shot import Shot
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

sys.path.insert(0, str(Path(__file__).parent))
import sky_camera as cam
from sky_camera_long import long_photograph

HIGH, EAST = -35.0, 20.0
CAMERA = cam.Camera(focal_mm=100.0, f_number=4.0, width_px=1200, height_px=800, pixel_um=7.0)
AT = cam.Exposure(seconds=12.0)


def shot(site: cam.Site, turn_deg: float, focal_mm: float = 100.0) -> Shot:
    camera = replace(CAMERA, focal_mm=focal_mm)
    axis = cam.axis_direction(site, HIGH, EAST)
    attitude = cam.attitude_towards(axis + np.array([0.01, 0.0, 0.01]), 40.0)
    body = long_photograph(site, camera, cam.Sky(), attitude, AT, 6.0, turn_deg, axis)
    with Image.open(io.BytesIO(body)) as image:
        grey = np.asarray(image.convert("L"), dtype=np.float32)
    return Shot("long.jpg", grey, Instants.from_datetime(AT.middle), camera.focal_px * 1.04)


def observer(site: cam.Site) -> Observer:
    return Observer(site.latitude_deg, site.longitude_deg, site.elevation_m,
                    pressure_hpa=site.pressure_hpa, temperature_c=site.temperature_c)  # fmt: skip


@pytest.mark.parametrize(
    ("latitude", "turn_deg", "focal_mm"),
    [(47.0, 30.0, 100.0), (-35.0, 30.0, 100.0), (51.0, -25.0, 28.0)],
)
def test_one_exposure_tells_the_axis(latitude: float, turn_deg: float, focal_mm: float) -> None:
    """At 28 mm hardly an arc can be seen by itself."""
    site = cam.Site(latitude_deg=latitude)
    found = axis_from_long_exposure(shot(site, turn_deg, focal_mm), observer(site))
    # The measure that was asked of nine such exposures in ten.
    assert np.hypot(*(found.estimate.values - [HIGH, EAST])) < 1.5
    assert found.arcs >= 6
    assert found.turned_deg == pytest.approx(abs(turn_deg), abs=3.0)
    # The bars are no wonder either: within four of them.
    off = found.estimate.values - [HIGH, EAST]
    assert off @ found.estimate.information @ off < 16.0
    assert 0.05 < found.scatter_px < 5.0
    # Of the scatter in pixels each direction has its part, in arcseconds.
    pixel_arcsec = np.degrees(1.0 / replace(CAMERA, focal_mm=focal_mm).focal_px) * 3600.0
    each = found.as_frames.misfit_arcsec / pixel_arcsec
    assert each == pytest.approx(found.scatter_px / np.sqrt(2.0), rel=0.05)


def test_one_that_was_not_turned_is_refused() -> None:
    site = cam.Site()
    with pytest.raises(AxletreeError, match="turn the hour axis by 20°"):
        axis_from_long_exposure(shot(site, 0.2), observer(site))


def test_where_all_arcs_agree_the_attitude_leaves_its_part() -> None:
    """By hand: stars to half a pixel of 100 mm and 7 um, 0.1203', over the root of 103 - 3."""
    site = cam.Site(latitude_deg=47.0)
    solved: Any = SimpleNamespace(
        attitude=np.eye(3), lens=SimpleNamespace(focal_px=CAMERA.focal_px), rms_px=0.5,
        picture_stars=range(103),
    )  # fmt: skip
    axis = cam.axis_direction(site, HIGH, EAST)
    covariance = _spread(np.tile(axis, (8, 1)), solved, observer(site), 47.0)
    own = np.degrees(0.5 * 0.007 / 100.0) * 60.0 / 10.0
    np.testing.assert_allclose(covariance, own**2 * np.eye(2), rtol=1e-6)
