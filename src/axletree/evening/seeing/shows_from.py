"""From when on does an object show, where the sky is still too light for it?"""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np

from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.sky_brightness import sky_state
from axletree.evening.seeing.visibility import Looks, margins
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Mask, Reals, Texts
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
# The same of stars, single or double, down to these magnitudes: the brightest are found as early as
# planets are, those that the bare eye finds at once as doubles, fainter ones when the stars around
# them show the way (common practice, no source).
BRIGHTEST_STARS_MAG = 1.5
STAR_SUN_DOWN_DEG = (
    (BRIGHTEST_STARS_MAG, 5.0),
    (4.5, SUN_DOWN_DEG["doubles"]),
    (6.5, 11.0),
    (np.inf, 15.0),
)
# From here on the bare eye sees a star or two (common practice, no source).
FIRST_STARS_SUN_DOWN_DEG = STAR_SUN_DOWN_DEG[0][1]
# What lacks no more than this part of the darkest instant, and no more than so many degrees, will
# do where none is darker (ours).
NEARLY_DARKEST_PART, NEARLY_DARKEST_DEG = 0.15, 2.0
# A star for which the Sun would have to sink so much deeper than it does all night shows in the
# tube, but no star around it leads there (ours).
MOST_LACKING_DEG = 6.5
_STEP_MINUTES = 5
_HOURS = 24


def dark_enough_for(
    themes: Texts, magnitude: Floats, sun_altitude_deg: Floats, asked: Mask | bool = False
) -> Mask:
    """When the sky is dark enough for objects of these themes and lights, (objects, instants)."""
    enough = sun_down_enough(themes, magnitude, -sun_altitude_deg.min(), asked)
    return np.asarray(-sun_altitude_deg >= enough[:, np.newaxis])


def sun_down_enough(
    themes: Texts, magnitude: Floats, deepest_deg: Reals, asked: Mask | bool = False
) -> Floats:
    """How far down the Sun will do for each object (..., objects), degrees; `deepest_deg` (..., 1)
    is how far it sinks at all.

    Where it doesn't sink as far as a theme asks for, nearly the darkest will do; but not for a star
    that lacks more than `MOST_LACKING_DEG`, unless it was `asked` for by name.
    """
    wanted, deepest = sun_down_wanted(themes, magnitude), np.asarray(deepest_deg)
    lacks = _are_stars(themes) & (wanted - deepest > MOST_LACKING_DEG) & ~np.asarray(asked)
    return np.where(lacks, np.inf, np.minimum(wanted, nearly_darkest_deg(deepest)))


def _are_stars(themes: Texts) -> Mask:
    return np.asarray(np.isin(themes, ["doubles", "colours"]))


def nearly_darkest_deg(deepest_deg: Reals) -> Floats:
    """How far down the Sun will do where it sinks to this at the deepest, degrees."""
    deepest = np.asarray(deepest_deg, dtype=np.float64)
    return deepest - np.clip(NEARLY_DARKEST_PART * deepest, 0.0, NEARLY_DARKEST_DEG)


def sun_down_wanted(themes: Texts, magnitude: Floats) -> Floats:
    """How far the Sun should be down for objects of these themes and magnitudes, (objects,)."""
    least = np.array([SUN_DOWN_DEG.get(theme, OTHERS_SUN_DOWN_DEG) for theme in themes])
    steps, degrees = zip(*STAR_SUN_DOWN_DEG, strict=True)
    of_star = np.array(degrees)[np.searchsorted(steps, np.nan_to_num(magnitude, nan=steps[1]))]
    return np.where(_are_stars(themes), of_star, least)


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
