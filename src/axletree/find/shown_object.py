"""Where does the object stand among the stars around it, how large is it, and how does it lie?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axletree.find.patch import Patch, offsets_deg
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import moves, object_positions
from axletree.sky.time.instants import Instants

_STEP_DEG = 0.02  # along which the air's flattening and the turned equator are carried over


@dataclass(frozen=True)
class ShownObject:
    """An object in a `Patch`: its place there, degrees east and north, and its outline.

    `outline_deg` (2, 2) holds the ends of its two half axes as seen through the air, in columns,
    east and north; None where no size is known. Where it isn't known how the long axis lies,
    `turn_known` is False and the outline a circle of its length. `companion_deg` (2,) is the
    fainter star of a pair, seen from the brighter one.
    """

    east_deg: float
    north_deg: float
    outline_deg: Floats | None = None
    turn_known: bool = True
    companion_deg: Floats | None = None


def shown_object(
    target: SkyObject,
    patch: Patch,
    instants: Instants,
    observer: Observer,
    diameter_deg: float | None = None,
) -> ShownObject:
    """The object in the patch at the first instant; `diameter_deg` is that of Moon or planet."""
    moving = moves(target)
    rows = [target] if moving else [target, *(_moved(target, way) for way in (0.0, 90.0))]
    places = object_positions(rows, instants[:1], observer)
    east, north = offsets_deg(
        places.azimuth_deg[:, 0], places.altitude_deg[:, 0],
        patch.hour_angle_h, patch.declination_deg, observer,
    )  # fmt: skip
    at = float(east[0]), float(north[0])
    if moving:
        if diameter_deg is None and target.size_major_arcmin is not None:
            diameter_deg = target.size_major_arcmin / 60.0
        round_ = None if diameter_deg is None else np.eye(2) * diameter_deg / 2.0
        return ShownObject(*at, outline_deg=round_)
    # Columns: where a degree to the catalogue's north and to its east leads in the patch.
    grid = np.array([east[1:] - at[0], north[1:] - at[1]]) / _STEP_DEG
    outline, known = _outline(target)
    return ShownObject(
        *at,
        outline_deg=None if outline is None else grid @ outline,
        turn_known=known,
        companion_deg=_companion(target, grid),
    )


def _moved(target: SkyObject, way_deg: float) -> SkyObject:
    """The object a step away, to the north (0) or the east (90) of the catalogue's sky."""
    assert target.ra_deg is not None
    assert target.dec_deg is not None
    step, way, dec = np.radians((_STEP_DEG, way_deg, target.dec_deg))
    high = np.arcsin(np.sin(dec) * np.cos(step) + np.cos(dec) * np.sin(step) * np.cos(way))
    turn = np.arctan2(
        np.sin(way) * np.sin(step) * np.cos(dec), np.cos(step) - np.sin(dec) * np.sin(high)
    )
    ra_deg = target.ra_deg + float(np.degrees(turn))
    return replace(target, ra_deg=ra_deg, dec_deg=float(np.degrees(high)))


def _outline(target: SkyObject) -> tuple[Floats | None, bool]:
    """Half axes in columns, degrees to the catalogue's north and east."""
    major = target.size_major_arcmin
    if major is None:
        return None, True
    minor = target.size_minor_arcmin or major
    turn = target.position_angle_deg
    if minor == major or turn is None or target.separation_arcsec is not None:
        return np.eye(2) * major / 120.0, minor == major
    p = np.radians(turn)
    long, short = major / 120.0, minor / 120.0
    return np.array([[long * np.cos(p), -short * np.sin(p)],
                     [long * np.sin(p), short * np.cos(p)]]), True  # fmt: skip


def _companion(target: SkyObject, grid: Floats) -> Floats | None:
    if target.separation_arcsec is None or target.position_angle_deg is None:
        return None
    p, apart = np.radians(target.position_angle_deg), target.separation_arcsec / 3600.0
    return np.asarray(grid @ np.array([np.cos(p), np.sin(p)]) * apart)
