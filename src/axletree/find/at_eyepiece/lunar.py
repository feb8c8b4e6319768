"""What does the Moon show at one moment: its phase, its nodding, what stands in the light?"""

from __future__ import annotations

from datetime import datetime

from axletree.find.at_eyepiece.answer import EarthShadowOnMoon, MoonAtEyepiece
from axletree.sky.directions import wrap_180
from axletree.sky.lunar.light import best_lit
from axletree.sky.lunar.nodding import moon_face
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.special.moon_eclipses import earth_shadow
from axletree.sky.time.instants import Instants

# No eclipse touches a Moon that is less lit than this (it is within two degrees of full).
_FULL_FROM = 0.998


def moon_at_eyepiece(at: datetime, observer: Observer) -> MoonAtEyepiece:
    """The Moon as this observer sees it."""
    now = Instants.from_datetime(at)
    face, seen = moon_face(now, observer), body_positions("moon", now, observer)
    # The Sun rises on the side that faces us while it stands east of the middle of the disc.
    waxing = float(wrap_180(face.sun_longitude_deg - face.longitude_deg)[0]) > 0.0
    edge = face.sunrise_longitude_deg if waxing else face.sunset_longitude_deg
    return MoonAtEyepiece(
        at=at,
        diameter_arcsec=float(seen.diameter_arcsec[0, 0]),
        phase_angle_deg=float(seen.phase_angle_deg[0, 0]),
        lit_fraction=float(seen.lit_fraction[0, 0]),
        waxing=waxing,
        bright_limb_deg=float(seen.bright_limb_deg[0, 0]),
        axis_deg=float(face.axis_deg[0]),
        libration_longitude_deg=float(face.longitude_deg[0]),
        libration_latitude_deg=float(face.latitude_deg[0]),
        terminator_longitude_deg=float(edge[0]),
        features=best_lit(face),
        shadow=_shadow(now) if float(seen.lit_fraction[0, 0]) > _FULL_FROM else None,
    )


def _shadow(now: Instants) -> EarthShadowOnMoon | None:
    here = earth_shadow(now)
    if float(here.penumbral_magnitude[0]) <= 0.0:
        return None
    moon_deg = float(here.moon_deg[0])
    return EarthShadowOnMoon(
        umbral_magnitude=float(here.umbral_magnitude[0]),
        penumbral_magnitude=float(here.penumbral_magnitude[0]),
        toward_deg=float(here.toward_deg[0]),
        apart_radii=float(here.apart_deg[0]) / moon_deg,
        umbra_radii=float(here.umbra_deg[0]) / moon_deg,
    )
