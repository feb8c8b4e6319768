"""One exposure of `sky_camera` in which the hour axis is turned after a while at rest."""

from __future__ import annotations

import io
from datetime import timedelta

import numpy as np
import sky_camera as cam
from PIL import Image


def long_photograph(
    site: cam.Site, camera: cam.Camera, sky: cam.Sky, attitude, exposure: cam.Exposure,
    turn_s: float, turn_deg: float, axis,
) -> bytes:  # fmt: skip
    """A JPEG: `exposure.seconds` at rest about `exposure.middle`, then turned evenly."""
    rng = np.random.default_rng(exposure.seed)
    ra, dec, v = cam.all_stars()
    square = (206.265 * camera.pixel_um / camera.focal_mm) ** 2
    per_pixel = float(cam.electrons(camera, exposure, sky.brightness_mag - 2.5 * np.log10(square)))
    bright = slice(0, int(np.searchsorted(v, cam.faintest(camera, exposure, per_pixel))))
    reach = np.cos(1.5 * np.hypot(camera.width_px, camera.height_px) / 2.0 / camera.focal_px)
    towards = cam.icrs(site, exposure.middle, attitude[2])
    chosen = np.flatnonzero(cam.unit_vectors()[bright] @ towards > reach)
    end = exposure.middle + timedelta(seconds=exposure.seconds / 2.0)
    moments = (exposure.middle, end, end + timedelta(seconds=turn_s))
    at = [cam.apparent(site, m, ra[chosen], dec[chosen]) for m in moments]
    scene = np.zeros(camera.height_px * camera.width_px)
    still = cam.electrons(camera, exposure, v[chosen])
    _add(scene, camera, cam.seen_places(camera, attitude, at[0]), still)
    moving = still * turn_s / exposure.seconds
    corner = np.hypot(camera.width_px, camera.height_px) / 2.0
    pieces = int(np.ceil(np.radians(abs(turn_deg)) * 1.2 * corner / 0.7))
    use = moving / pieces > 0.3
    for k in range(pieces):
        part = (k + 0.5) / pieces
        turned = attitude @ cam.turn(axis, np.radians(turn_deg) * part).T
        seen = at[1][use] * (1 - part) + at[2][use] * part
        _add(scene, camera, cam.seen_places(camera, turned, seen), moving[use] / pieces)
    scene = scene.reshape(camera.height_px, camera.width_px)
    scene = scene + per_pixel * (1.0 + turn_s / exposure.seconds)
    scene = rng.poisson(np.maximum(scene, 0.0)) + rng.normal(0.0, cam.READ_NOISE, scene.shape)
    level = np.clip(scene / max(30.0 * per_pixel, 4000.0), 0.0, 1.0) ** cam.GAMMA
    out = io.BytesIO()
    Image.fromarray((255.0 * level).round().astype(np.uint8)).save(
        out, "JPEG", quality=exposure.quality, exif=cam.exif(camera, exposure)
    )
    return out.getvalue()


def _add(scene, camera, places, light):
    size = int(np.ceil(4.0 * camera.spot_px))
    step = np.arange(-size, size + 1)
    good = np.isfinite(places).all(axis=1) & (places > size + 1).all(axis=1)
    good &= (places[:, 0] < camera.width_px - size - 2) & (
        places[:, 1] < camera.height_px - size - 2
    )
    places, light = places[good], light[good]
    whole = np.rint(places).astype(int)
    s2 = 2.0 * camera.spot_px**2
    gx = np.exp(-((whole[:, :1] + step - places[:, :1]) ** 2) / s2)
    gy = np.exp(-((whole[:, 1:] + step - places[:, 1:]) ** 2) / s2)
    patch = gy[:, :, None] * gx[:, None, :] * (light / (np.pi * s2))[:, None, None]
    rows = (whole[:, 1:] + step)[:, :, None] * camera.width_px
    np.add.at(scene, (rows + (whole[:, :1] + step)[:, None, :]).ravel(), patch.ravel())
