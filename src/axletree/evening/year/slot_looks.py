"""How clearly and how high does each fixed object show at each slot of each of many nights?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.objects.not_offered import SHOWN_MARGIN
from axletree.evening.year.night_samples import NightSamples
from axletree.evening.year.sights import UNSEEN, Sights, looked_up, map_step
from axletree.kit.frozen import dataclass
from axletree.sky.air.brightness import (
    mag_arcsec2,
    moonlight_arriving,
    moonlight_scattered,
    twilight_nanolamberts,
)
from axletree.sky.arrays import Floats, Singles

_CHUNK = 120_000


@dataclass(frozen=True)
class SlotLooks:
    """Each object at some of the instants of each session, arrays (m, columns, n).

    `margin` and `darkest` are `UNSEEN` and `height` 0 where the object is not open, or wouldn't
    show even without Moon and twilight; `darkest` is the margin that it would have without them.
    """

    margin: Singles
    height: Singles
    darkest: Singles


def looks_at(sights: Sights, samples: NightSamples, columns: Sequence[int]) -> SlotLooks:
    """Margin and height of each object at these instants (0 is the first stop's begin)."""
    m, n = samples.shape[0], len(sights)
    shape = (m, len(columns), n)
    margin, height = np.full(shape, UNSEEN, np.float32), np.zeros(shape, np.float32)
    darkest = np.full(shape, UNSEEN, np.float32)
    moon_ra = samples.of_body("moon", "right_ascension_h")
    moon_dec = samples.of_body("moon", "declination_deg")
    k = sights.extinction_mag
    arriving = moonlight_arriving(
        samples.of_body("moon", "altitude_deg"), samples.of_body("moon", "phase_angle_deg"), k
    )
    twilight = twilight_nanolamberts(samples.of_body("sun", "altitude_true_deg"))
    towards = _vectors(sights.ra_h, sights.dec_deg)
    first = np.arange(n) * sights.darkest.shape[1]
    block = max(1, _CHUNK // max(n, 1))
    tables = (sights.altitude_deg, sights.airmass, sights.dark, sights.scattering)
    flat = [a.ravel() for a in tables]
    best, light, cap = sights.darkest.ravel(), sights.light.ravel(), sights.cap.ravel()
    for place, sample in enumerate(columns):
        for a in range(0, m, block):
            rows = slice(a, min(a + block, m))
            hour = samples.sidereal_h[rows, sample][:, np.newaxis] - sights.ra_h
            at = map_step(hour) + first
            without = best.take(at)
            session, each = np.nonzero(without >= SHOWN_MARGIN)  # what can show at all
            at = at[session, each]
            altitude, air, total, scattering = (f.take(at) for f in flat)
            total = total + twilight[rows, sample].take(session)
            moonlight = arriving[rows, sample]
            if moonlight.any():
                moon = _vectors(moon_ra[rows, sample], moon_dec[rows, sample])
                lit = np.flatnonzero(moonlight.take(session) > 0.0)
                by, it = session[lit], each[lit]
                apart = np.degrees(np.arccos(np.clip((moon @ towards.T)[by, it], -1.0, 1.0)))
                total[lit] += moonlight_scattered(apart) * moonlight[by] * scattering[lit]
            found = looked_up(light, cap, mag_arcsec2(total), air, k, each)
            session += a
            margin[session, place, each] = np.nan_to_num(found, nan=UNSEEN)
            height[session, place, each] = altitude
            darkest[session, place, each] = best.take(at)
    return SlotLooks(margin, height, darkest)


def _vectors(ra_h: Floats, dec_deg: Floats) -> Singles:
    ra, dec = np.radians(ra_h * 15.0), np.radians(dec_deg)
    x, y, z = np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)
    return np.stack((x, y, z), axis=-1).astype(np.float32)
