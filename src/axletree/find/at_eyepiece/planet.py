"""What do a planet's disc, rings and moons show at one moment?"""

from __future__ import annotations

from datetime import datetime

import numpy as np

from axletree.find.at_eyepiece.answer import (
    MOON_PLACE_ERROR_ARCSEC,
    BesidePlanet,
    MoonBeside,
    PlanetAtEyepiece,
    RingsShown,
    ShadowOnDisc,
)
from axletree.sky.discs.look import disc
from axletree.sky.discs.rings import saturn_rings
from axletree.sky.happenings.kinds import Happening
from axletree.sky.moons.places import MoonPlaces, moon_places
from axletree.sky.moons.systems import SYSTEMS
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


def planet_at_eyepiece(
    body: str, at: datetime, until: datetime, observer: Observer, told: tuple[Happening, ...]
) -> PlanetAtEyepiece:
    """The planet "mercury" ... "neptune"; of the happenings `told` those that matter are kept."""
    now = Instants.from_datetime(at)
    seen = disc(body, now, observer)
    moons = moon_places(body, now, observer) if body in SYSTEMS else None
    return PlanetAtEyepiece(
        body=body,
        at=at,
        until=until,
        diameter_arcsec=float(seen.diameter_arcsec[0]),
        polar_diameter_arcsec=float(seen.polar_diameter_arcsec[0]),
        phase_angle_deg=float(seen.phase_angle_deg[0]),
        lit_fraction=float(seen.lit_fraction[0]),
        bright_limb_deg=float(seen.bright_limb_deg[0]),
        axis_deg=float(seen.axis_deg[0]),
        elongation_deg=float(seen.elongation_deg[0]),
        side=seen.side(),
        magnitude_v=float(seen.magnitude_v[0]),
        rings=_rings(now, observer) if body == "saturn" else None,
        moons=() if moons is None else tuple(_moon(moons, k) for k in range(len(moons.names))),
        happenings=tuple(h for h in told if h.body == body and _matters(h, at, until)),
    )


def _rings(now: Instants, observer: Observer) -> RingsShown:
    rings = saturn_rings(now, observer)
    return RingsShown(
        opening_deg=float(rings.opening_deg[0]),
        sun_deg=float(rings.sun_deg[0]),
        face=rings.face(),
        outer_arcsec=float(rings.outer_arcsec[0]),
        inner_arcsec=float(rings.inner_arcsec[0]),
        gap_arcsec=float(rings.gap_arcsec[0]),
        short_over_long=float(rings.short_over_long[0]),
    )


def _moon(places: MoonPlaces, k: int) -> MoonBeside:
    east, north = float(places.east_arcsec[k, 0]), float(places.north_arcsec[k, 0])
    state = BesidePlanet.BESIDE
    if places.behind[k, 0]:
        state = BesidePlanet.BEHIND_DISC
    elif places.before[k, 0]:
        state = BesidePlanet.BEFORE_DISC
    elif places.dark[k, 0]:
        state = BesidePlanet.IN_SHADOW
    shadow = None
    if np.isfinite(places.shadow_west_radii[k, 0]):
        shadow = ShadowOnDisc(
            float(places.shadow_west_radii[k, 0]),
            float(places.shadow_north_radii[k, 0]),
            float(places.shadow_squeeze[k, 0]),
        )
    return MoonBeside(
        name=places.names[k],
        state=state,
        position_angle_deg=float(np.degrees(np.arctan2(east, north)) % 360.0),
        apart_arcsec=float(np.hypot(east, north)),
        error_arcsec=MOON_PLACE_ERROR_ARCSEC[places.planet],
        west_radii=float(places.west_radii[k, 0]),
        north_radii=float(places.north_radii[k, 0]),
        size_arcsec=float(places.size_arcsec[k, 0]),
        magnitude_v=float(places.magnitude_v[k, 0]),
        shadow=shadow,
    )


def _matters(told: Happening, at: datetime, until: datetime) -> bool:
    """Whether it goes on at that moment, or one of its moments that can be seen comes soon."""
    if not told.turns:
        return False
    goes_on = told.turns[0].time <= at <= told.turns[-1].time
    return goes_on or any(t.seen and at <= t.time <= until for t in told.turns)
