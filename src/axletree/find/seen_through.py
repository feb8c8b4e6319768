"""What does each instrument show of an object at one instant?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field

import numpy as np

from axletree.find.instruments import Instrument, InstrumentKind, limit_mag
from axletree.find.patch import Patch, patch_around
from axletree.find.person import Skill
from axletree.find.shown_object import shown_object
from axletree.find.view import FieldView, PosedRig, field_view, turned_in
from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import direction
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.catalogue.stars_around import FAINTEST_MAG
from axletree.sky.directions import azimuth_altitude_from_vector
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

_ROUNDING_DEG = 1e-6


@dataclass(frozen=True)
class Seeing:
    """By what light somebody looks there: the sky's brightness (mag/arcsec2), what the air takes
    at that altitude (magnitudes), who looks, and how large the unrest makes a star.

    `patches`: stars that are at hand already about the same direction, wide enough for every
    instrument of that kind and to its limit.
    """

    sky_mag_arcsec2: float
    extinction_mag: float
    skill: Skill
    seeing_arcsec: float = 0.0
    patches: Mapping[InstrumentKind, Patch] = field(default_factory=dict)


def views_of_object(
    instruments: Sequence[Instrument],
    target: SkyObject,
    posed: PosedRig,
    instants: Instants,
    observer: Observer,
    seeing: Seeing,
    diameter_deg: float | None = None,
) -> tuple[FieldView, ...]:
    """One view an instrument, about where the posed tube looks, at the first instant.

    The object stands where it is then: in the middle if the tube points at it. `diameter_deg` is
    that of Moon or planet.
    """
    T = direction(posed.axes, posed.tube_end_h, posed.swing_deg)
    azimuth, altitude = (float(v) for v in azimuth_altitude_from_vector(T))
    limits = [
        limit_mag(i, seeing.sky_mag_arcsec2, seeing.extinction_mag, seeing.skill,
                  seeing.seeing_arcsec)
        for i in instruments
    ]  # fmt: skip
    patches = dict(seeing.patches)
    for kind in {i.kind for i in instruments} - patches.keys():
        same = [k for k, i in enumerate(instruments) if i.kind is kind]
        radius = max(instruments[k].true_field_deg for k in same) / 2.0 + _ROUNDING_DEG
        # Every list ends at V 10; one that ends where the instrument does lacks nothing either.
        faintest = min(max(limits[k] for k in same), FAINTEST_MAG)
        patches[kind] = patch_around(azimuth, altitude, radius, instants, observer, faintest)
    if not patches:
        return ()
    shown = shown_object(target, next(iter(patches.values())), instants, observer, diameter_deg)
    far = np.hypot(shown.east_deg, shown.north_deg)
    return tuple(
        field_view(
            patches[i.kind],
            i,
            turned_in(i, patches[i.kind], posed.axes.latitude_deg, posed),
            limit,
            shown if np.isfinite(far) else None,
        )
        for i, limit in zip(instruments, limits, strict=True)
    )
