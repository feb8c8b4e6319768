"""From when on does an object show, where the sky is still too light for it?"""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np

from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.seeing.visibility import Looks, margins
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Mask, Texts
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.events.twilight import ASTRONOMICAL_DEG, CIVIL_DEG
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

# How far the Sun is down when each theme can be found and shown well: common practice, no source.
SUN_DOWN_DEG = {
    "moon and planets": 3.0, "doubles": 8.0, "colours": 8.0, "clusters": 11.0, "nebulae": 15.0,
    "galaxies": 15.0,
}  # fmt: skip
OTHERS_SUN_DOWN_DEG = 11.0
# The brightest stars are found as early as planets are.
BRIGHTEST_STAR_MAG, BRIGHTEST_STAR_SUN_DOWN_DEG = 1.5, 5.0
# The darkest of the instants, to this, will do where none is darker.
NEARLY_DARKEST_DEG = 0.5
_STEP_MINUTES = 5
_HOURS = 24


def dark_enough_for(themes: Texts, magnitude: Floats, sun_altitude_deg: Floats) -> Mask:
    """When the sky is dark enough for objects of these themes and magnitudes, (objects, instants).

    Where the Sun doesn't sink as far as a theme asks for, the darkest of the instants will do.
    """
    least = sun_down_wanted(themes, magnitude)
    deepest = float(-sun_altitude_deg.min()) - NEARLY_DARKEST_DEG
    return np.asarray(-sun_altitude_deg >= np.minimum(least, deepest)[:, np.newaxis])


def sun_down_wanted(themes: Texts, magnitude: Floats) -> Floats:
    """How far the Sun should be down for objects of these themes and magnitudes, (objects,)."""
    least = np.array([SUN_DOWN_DEG.get(theme, OTHERS_SUN_DOWN_DEG) for theme in themes])
    star = np.isin(themes, ["doubles", "colours"]) & (magnitude <= BRIGHTEST_STAR_MAG)
    return np.where(star, BRIGHTEST_STAR_SUN_DOWN_DEG, least)


def is_light(at: Instants, observer: Observer) -> bool:
    """Whether the first instant is by day or in twilight: an hour may bring what doesn't show."""
    sun = body_positions("sun", at[:1], observer)
    return float(sun.altitude_true_deg[0, 0]) > -ASTRONOMICAL_DEG


def shows_from(
    kit: Kit, observer: Observer, thing: SkyObject, looks: Looks, at: datetime
) -> datetime | None:
    """When the object shows through some eyepiece, and bright stars to find it by, for the first
    time within a day, to five minutes; None: not at all. `looks` is the object's one row."""
    moments = [at + timedelta(minutes=m) for m in range(_STEP_MINUTES, _HOURS * 60, _STEP_MINUTES)]
    instants = Instants.from_datetimes(moments)
    sky, places = sky_state(kit, observer, instants), object_positions([thing], instants, observer)
    margin = margins(kit, looks, views_of(kit), sky.behind(places), places.airmass)[:, 0]
    shows = np.nan_to_num(margin, nan=-np.inf).max(axis=0) >= 0.0
    shows &= places.altitude_deg[0] >= kit.habits.lowest_altitude_deg
    shows &= sky.sun_altitude_deg <= -CIVIL_DEG
    first = int(shows.argmax())
    return moments[first] if shows[first] else None


def is_drowned(kit: Kit, observer: Observer, thing: SkyObject, looks: Looks, at: Instants) -> bool:
    """Whether the sky at the first instant is too light for the object in every eyepiece, where
    anything is known of how it looks."""
    sky, places = sky_state(kit, observer, at[:1]), object_positions([thing], at[:1], observer)
    margin = margins(kit, looks, views_of(kit), sky.behind(places), places.airmass)[:, 0]
    return bool((margin < 0.0).all())
