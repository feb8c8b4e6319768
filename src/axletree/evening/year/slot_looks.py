"""How clearly and how high does each fixed object show at each slot of each of many nights?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.year.night_samples import NightSamples
from axletree.evening.year.sights import UNSEEN, Sights, looked_up, map_step
from axletree.kit.frozen import dataclass
from axletree.mount.room.table import RoomTable
from axletree.sky.air.brightness import (
    mag_arcsec2,
    moonlight_nanolamberts,
    twilight_nanolamberts,
)
from axletree.sky.arrays import Floats, Singles

_CHUNK = 120_000


@dataclass(frozen=True)
class SlotLooks:
    """Each object at some of the instants of each session, arrays (m, columns, n).

    `margin` is `UNSEEN` and `height` 0 where the object is not open or nothing is known of its
    light; `darkest` is the margin that it would have there without Moon and twilight.
    """

    margin: Singles
    height: Singles
    darkest: Singles


def looks_at(
    sights: Sights, samples: NightSamples, table: RoomTable, columns: Sequence[int]
) -> SlotLooks:
    """Margin and height of each object at these instants (0 is the first stop's begin)."""
    m, n = samples.shape[0], len(sights)
    shape = (m, len(columns), n)
    margin, height = np.full(shape, UNSEEN, np.float32), np.zeros(shape, np.float32)
    darkest = np.full(shape, UNSEEN, np.float32)
    moon_ra = samples.of_body("moon", "right_ascension_h")
    moon_dec = samples.of_body("moon", "declination_deg")
    moon_alt = samples.of_body("moon", "altitude_deg")
    moon_phase = samples.of_body("moon", "phase_angle_deg")
    twilight = twilight_nanolamberts(samples.of_body("sun", "altitude_true_deg"))
    towards = _vectors(sights.ra_h, sights.dec_deg)
    steps = sights.open.shape[1]
    each = np.arange(n)
    block = max(1, _CHUNK // max(n, 1))
    tables = (sights.open, sights.altitude_deg, sights.airmass, sights.dark, sights.darkest)
    flat = [a.ravel() for a in tables]
    light, cap = sights.light.ravel(), sights.cap.ravel()
    for place, sample in enumerate(columns):
        for a in range(0, m, block):
            rows = slice(a, min(a + block, m))
            hour = samples.sidereal_h[rows, sample][:, np.newaxis] - sights.ra_h
            at = map_step(table, hour) + each * steps
            is_open = flat[0].take(at)
            altitude, air, glow = (f.take(at) for f in flat[1:4])
            total = glow + twilight[rows, sample][:, np.newaxis]
            up = moon_alt[rows, sample] > 0.0
            if up.any():
                moon = _vectors(moon_ra[rows, sample][up], moon_dec[rows, sample][up])
                apart = np.degrees(np.arccos(np.clip(moon @ towards.T, -1.0, 1.0)))
                total[up] += moonlight_nanolamberts(
                    altitude[up],
                    moon_alt[rows, sample][up][:, np.newaxis],
                    apart,
                    moon_phase[rows, sample][up][:, np.newaxis],
                    sights.extinction_mag,
                )
            found = looked_up(light, cap, mag_arcsec2(total), air, sights.extinction_mag, each)
            np.copyto(margin[rows, place], np.nan_to_num(found, nan=UNSEEN), where=is_open)
            np.copyto(height[rows, place], altitude, where=is_open)
            darkest[rows, place] = flat[4].take(at)
    return SlotLooks(margin, height, darkest)


def _vectors(ra_h: Floats, dec_deg: Floats) -> Singles:
    ra, dec = np.radians(ra_h * 15.0), np.radians(dec_deg)
    x, y, z = np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)
    return np.stack((x, y, z), axis=-1).astype(np.float32)
