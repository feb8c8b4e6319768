"""How clearly would the objects show on the same night without the Moon?"""

from __future__ import annotations

import numpy as np

from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.own_eyepiece import own_margins
from axletree.evening.seeing.sky_brightness import SkyState
from axletree.evening.seeing.visibility import Looks
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices
from axletree.sky.positions.stars import Positions


def moonless_margins(
    kit: Kit, looks: Looks, eyepiece: Indices, places: Positions, sky: SkyState
) -> Floats:
    """Margins (n, instants) in their own eyepieces (n,), in magnitudes; nan where the light of an
    object isn't known."""
    dark = sky.behind(places, moonlight=False)
    return own_margins(kit, looks, views_of(kit), eyepiece, dark, places.airmass)


def moon_takes_mag(
    kit: Kit, looks: Looks, eyepiece: Indices, places: Positions, sky: SkyState, margin_mag: Floats
) -> Floats:
    """What the Moon takes of these margins (n, instants) where they are best, in magnitudes (n,);
    of what isn't known, nothing."""
    if not (sky.moon_altitude_deg > 0.0).any():
        return np.zeros(len(margin_mag))
    at, each = np.nan_to_num(margin_mag, nan=-np.inf).argmax(axis=1), np.arange(len(margin_mag))
    dark = sky.behind(places, moonlight=False)[each, at][:, np.newaxis]
    air = places.airmass[each, at][:, np.newaxis]
    moonless = own_margins(kit, looks, views_of(kit), eyepiece, dark, air)[:, 0]
    return np.asarray(np.nan_to_num(moonless - margin_mag[each, at], nan=0.0, posinf=0.0))
