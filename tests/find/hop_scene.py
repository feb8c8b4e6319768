"""Evenings at both demo sites: objects that are up, the stars about them, a 6x30 finder.

Sites as in the demo kits; a 25 mm eyepiece of 50 degrees on 750 mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

import numpy as np

from axletree.find.hopping.answer import HopQuestion
from axletree.find.hopping.hop import way_radius_deg
from axletree.find.hopping.way import HopSight
from axletree.find.patch import patch_around
from axletree.find.person import skill_of
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.objects import find
from axletree.sky.contrast import Experience, Optics, naked_eye_limit_mag, point_limit_mag
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

NORTH = Observer(38.5712, -7.9093, 292.0)
SOUTH = Observer(-44.021, 170.462, 720.0)
EVENINGS = (
    (NORTH, datetime(2026, 12, 5, 20, tzinfo=UTC)),
    (NORTH, datetime(2026, 6, 10, 23, tzinfo=UTC)),
    (SOUTH, datetime(2026, 6, 10, 9, tzinfo=UTC)),
    (SOUTH, datetime(2026, 12, 5, 11, tzinfo=UTC)),
)
LOWEST_DEG = 20.0
EXTINCTION_MAG = 0.25  # of somewhat more than one airmass


def sight_of(
    experience: Experience, sky_mag_arcsec2: float = 20.5, finder_field_deg: float = 7.0
) -> HopSight:
    """A 6x30 finder and the bare eye under this sky."""
    skill = skill_of(experience)
    finder = Optics(30.0, 6.0, 0.85)
    return HopSight(
        finder_field_deg=finder_field_deg,
        finder_limit_mag=float(point_limit_mag(sky_mag_arcsec2, finder, skill.field_factor))
        - EXTINCTION_MAG,
        bare_eye_limit_mag=float(naked_eye_limit_mag(sky_mag_arcsec2, skill.field_factor))
        - EXTINCTION_MAG,
        eyepiece_field_deg=25.0 * 50.0 / 750.0,
    )


def messier() -> list[str]:
    """Their names, M1 first."""
    return sorted({m for m in deep_sky().messier if m}, key=lambda name: int(name[1:]))


def question_at(
    name: str,
    evening: tuple[Observer, datetime],
    sight: HopSight,
    experience: Experience = "practised",
) -> HopQuestion | None:
    """What is asked of a hop to this object; None where it is too low."""
    observer, at = evening
    instants = Instants.from_datetime(at)
    places = object_positions([find(name)], instants, observer)
    azimuth, altitude = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    if altitude < LOWEST_DEG:
        return None
    limit = min(sight.finder_limit_mag + 0.5, 10.0)
    radius = way_radius_deg(sight.finder_field_deg)
    patch = patch_around(azimuth, altitude, radius, instants, observer, limit)
    return HopQuestion(patch, observer.latitude_deg, sight, skill_of(experience))


def up(
    names: list[str], sight: HopSight, experience: Experience = "practised"
) -> Iterator[tuple[str, HopQuestion]]:
    """All of them that are up at one of the evenings, with their questions."""
    for evening in EVENINGS:
        for name in names:
            question = question_at(name, evening, sight, experience)
            if question is not None:
                yield name, question


def share(values: list[bool]) -> float:
    """How many of them are true, 0-1."""
    return float(np.mean(values))
