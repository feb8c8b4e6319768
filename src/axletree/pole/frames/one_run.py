"""Are these frames of one camera in one run, where did their pixels look, and how well?"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.pole.frames.air import lifted_otherwise
from axletree.pole.picture.frame_file import Frame
from axletree.pole.picture.wcs import directions
from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    angle_between_deg,
    angles_from_vector,
    vector_from_azimuth_altitude,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars, star_positions

SCALE_TOLERANCE = 0.005
LONGEST_RUN_H = 12.0
LOWEST_ALTITUDE_DEG = 3.0
_AIR_SIGMAS = 3.0
_GRID = np.linspace(-0.4, 0.4, 5)
_MIDDLE = len(_GRID) ** 2 // 2


def pixel_grid(width_px: int, height_px: int) -> tuple[Floats, Floats]:
    """Pixels (25,) spread over a frame, counted from 0, that stand for all of it."""
    x, y = np.meshgrid(_GRID * width_px, _GRID * height_px)
    return (width_px - 1) / 2.0 + x.ravel(), (height_px - 1) / 2.0 + y.ravel()


def seen_frame(frame: Frame, observer: Observer) -> Floats:
    """Local directions (25, 3) in which the pixels of `pixel_grid` look, through the air."""
    icrs = directions(frame.wcs, *pixel_grid(frame.wcs.width_px, frame.wcs.height_px))
    ra, dec = angles_from_vector(icrs)
    place = star_positions(Stars.of(ra, dec), frame.middle, observer)
    return vector_from_azimuth_altitude(place.azimuth_deg[:, 0], place.altitude_deg[:, 0])


def default_sigmas_arcsec(frame: Frame) -> tuple[float, float]:
    """Standard deviations to expect of a solved frame: across, and about, the line of sight.

    A fifth of a pixel and never under half an arcsecond (common practice, no source), or what
    the header states (CRDER); about the line of sight the same shift at the rms radius.
    """
    stated = frame.wcs.random_error_deg
    across = max(0.2 * frame.scale_arcsec, 0.5) if not stated else stated * 3600.0
    rms_px = math.hypot(frame.wcs.width_px, frame.wcs.height_px) / math.sqrt(12.0)
    return across, across / (rms_px * frame.scale_arcsec) * 206264.8


def check_one_run(frames: Sequence[Frame]) -> None:
    """Refuse frames that can't be of one camera in one run, naming the one that is different.

    The scales are another matter, because of the air: `check_one_scale`.
    """
    if len(frames) < 2:
        raise AxletreeError(
            "one frame shows no turn: give two or more, with the hour axis turned between them"
        )
    first = frames[0]
    for other in frames[1:]:
        a, b = first.wcs, other.wcs
        if (a.width_px, a.height_px) != (b.width_px, b.height_px):
            raise AxletreeError(
                f"{other.name}: {b.width_px} x {b.height_px} pixels, but {first.name} has "
                f"{a.width_px} x {a.height_px}; all frames must come from one camera, binned alike"
            )
        if a.mirrored != b.mirrored:
            raise AxletreeError(f"{other.name}: mirrored against {first.name}; not of the same run")
        if first.camera and other.camera and first.camera != other.camera:
            raise AxletreeError(
                f"{other.name}: taken with '{other.camera}', but {first.name} with "
                f"'{first.camera}'; not of the same run"
            )
        hours = abs(float(other.middle.seconds_since(first.middle)[0])) / 3600.0
        if hours > LONGEST_RUN_H:
            raise AxletreeError(
                f"{other.name}: {hours:.0f} h away from {first.name}; not of the same run"
            )


def too_low_one(seen: Floats) -> tuple[int, float] | None:
    """Which frame looks lowest, by their directions (frames, 25, 3), and its altitude in degrees;
    None if that is high enough."""
    altitude = np.degrees(np.arcsin(seen[:, _MIDDLE, 2]))
    k = int(np.argmin(altitude))
    return (k, float(altitude[k])) if altitude[k] < LOWEST_ALTITUDE_DEG else None


def check_one_scale(frames: Sequence[Frame], seen: Floats, observer: Observer) -> None:
    """Refuse frames through other optics, by their directions (frames, 25, 3) from `seen_frame`.

    The air presses low frames together, by 2 % at 6 degrees; so scales are compared as seen
    through it, and the tolerance grows by what the air might be other than assumed.
    """
    scales = _scale_arcsec(frames, seen)
    by_air = _scale_arcsec(frames, lifted_otherwise(seen, observer)) / scales - 1.0
    against_first = np.sqrt(np.sum((by_air - by_air[:, :1]) ** 2, axis=0))
    tolerance = SCALE_TOLERANCE + _AIR_SIGMAS * against_first
    for k, other in enumerate(frames):
        if abs(scales[k] / scales[0] - 1.0) > tolerance[k]:
            raise AxletreeError(
                f"{other.name}: {scales[k]:.3f} arcsec a pixel, but {frames[0].name} has "
                f"{scales[0]:.3f}; all frames must come through the same optics"
            )


def _scale_arcsec(frames: Sequence[Frame], seen: Floats) -> Floats:
    """Arcseconds a pixel (..., frames) about the middle, the mean of both ways."""
    step = _GRID[1] - _GRID[0]
    wcs = frames[0].wcs
    total = np.zeros(seen.shape[:-2])
    for apart, size_px in ((1, wcs.width_px), (len(_GRID), wcs.height_px)):
        angle = angle_between_deg(seen[..., _MIDDLE + apart, :], seen[..., _MIDDLE - apart, :])
        total = total + angle * 3600.0 / (2.0 * step * size_px)
    return np.asarray(total / 2.0)
