"""How far is the axis off, from camera frames between which only the hour axis was turned?

Each solved frame gives a full attitude in the local frame: the direction of every pixel as it is
seen through the air, at the middle of its exposure. Two frames are joined by one rotation, and its
axis is the mount's, whether the drive ran or not and however near the pole the camera looks.
With more frames all rotations share one axis, and the misfit tells how good they are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.frames.air import air_shifts
from axletree.pole.frames.attitude import (
    axis_of,
    rotation_between,
    rotation_vector,
    turn_about,
)
from axletree.pole.frames.errors import AttitudeErrors
from axletree.pole.frames.one_run import (
    check_one_run,
    check_one_scale,
    default_sigmas_arcsec,
    seen_frame,
    too_low_one,
)
from axletree.pole.picture.frame_file import Frame
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.least_squares import Fit, chance_of_more, fit
from axletree.pole.solution.outliers import RARE, Without, odd_one
from axletree.sky.arrays import Floats
from axletree.sky.directions import axis_error_arcmin, polar_axis
from axletree.sky.observer import Observer
from axletree.sky.rotations import rotation_about, small_rotation

LEAST_TURN_DEG = 0.5
FARTHEST_AXIS_DEG = 15.0
_ARCMIN = np.pi / 10800.0


@dataclass(frozen=True)
class FramesSolution:
    """The axis error from frames. Arrays of shape (frames,), in the order given.

    `turned_h`: how far the hour axis was turned since the first frame that was used, west
    positive. `misfit_arcsec` (frames, 3): leftover of each attitude across the line of sight
    (two ways) and about it. `left_out`: frames that don't fit and were not used. `chance`: how
    often honest noise fits as badly; `widened`: factor put on the uncertainties for that.
    `altitude_deg`: where each frame looked.
    """

    estimate: AxisEstimate
    turned_h: Floats
    misfit_arcsec: Floats
    altitude_deg: Floats
    left_out: tuple[int, ...] = ()
    chi2: float = 0.0
    dof: int = 0
    chance: float = 1.0
    widened: float = 1.0


def axis_from_frames(
    frames: Sequence[Frame],
    observer: Observer,
    *,
    pole: Pole = "refracted",
    across_sigma_arcsec: float | None = None,
    about_sigma_arcsec: float | None = None,
) -> FramesSolution:
    """The axis error from solved frames; standard deviations default to `default_sigmas_arcsec`.

    Refuses frames that are not of one run, all of one attitude, or below the horizon.
    """
    check_one_run(frames)
    usual = default_sigmas_arcsec(frames[0])
    seen = np.array([seen_frame(frame, observer) for frame in frames])
    whole = np.isfinite(seen).all(axis=(1, 2))
    if not whole.all():
        raise AxletreeError(
            f"{frames[int(np.argmin(whole))].name}: by its WCS (CRVAL, CD, CTYPE ...) some pixels "
            "look nowhere in the sky; solve the frame again"
        )
    low = too_low_one(seen)
    if low is not None:
        at, altitude = low
        side = "above" if altitude >= 0 else "below"
        raise AxletreeError(
            f"{frames[at].name}: looks {abs(altitude):.0f}° {side} "
            "the horizon at its time from this site; is the header's time UTC, the site right?"
        )
    check_one_scale(frames, seen, observer)
    return solve_frames(
        seen,
        observer,
        across_sigma_arcsec=across_sigma_arcsec or usual[0],
        about_sigma_arcsec=about_sigma_arcsec or usual[1],
        pole=pole,
        names=[frame.name for frame in frames],
    )


def solve_frames(
    seen: ArrayLike,
    observer: Observer,
    *,
    across_sigma_arcsec: float,
    about_sigma_arcsec: float,
    pole: Pole = "refracted",
    names: Sequence[str] | None = None,
) -> FramesSolution:
    """The axis error from local directions (frames, n, 3) of the same n pixels in every frame.

    The line of sight is the mean of a frame's directions; the standard deviations are those of
    one frame's attitude across and about it. From four frames on one that doesn't fit is found
    and left out; of three it can be when only one pair turns about an axis near the pole.
    """
    sigmas = np.array([across_sigma_arcsec, across_sigma_arcsec, about_sigma_arcsec]) / 60.0
    return solve_attitudes(seen, observer, AttitudeErrors(sigmas), pole=pole, names=names)


def solve_attitudes(
    seen: ArrayLike,
    observer: Observer,
    errors: AttitudeErrors,
    *,
    pole: Pole = "refracted",
    names: Sequence[str] | None = None,
) -> FramesSolution:
    """The same with errors of any kind, such as those of frames through one lens."""
    all_seen = np.asarray(seen, dtype=np.float64)
    labels = list(names) if names else [f"frame {k + 1}" for k in range(len(all_seen))]
    everyone = np.ones(len(all_seen), dtype=bool)
    _refuse_same_attitude(all_seen, labels, errors.across_arcmin)
    best, mixed = _solve(all_seen, errors, observer, pole)
    used = everyone
    left_out: tuple[int, ...] = ()
    if best.dof and best.chance < RARE:
        odd = _odd_one(all_seen, errors, observer, pole, best.dof)
        if odd is not None:
            used = everyone.copy()
            used[odd] = False
            left_out = (odd,)
            best, mixed = _solve(all_seen[used], errors.of(used), observer, pole)
    off = math.hypot(best.values[0], best.values[1]) / 60.0
    if off > FARTHEST_AXIS_DEG:
        raise AxletreeError(
            f"the frames turn about a point {off:.0f}° from the pole: was the declination axis or "
            "the camera turned between them, or is one of them not of the same run?"
        )
    widened = 1.0
    if best.dof and best.chance < RARE:
        widened = math.sqrt(best.chi2 / best.dof)
    sense = 1.0 if observer.north else -1.0
    turned = np.full(len(all_seen), np.nan)
    count = int(used.sum())
    turned[used] = -sense * np.concatenate([[0.0], best.values[2 : 1 + count]]) / 900.0
    misfit = np.full((len(all_seen), 3), np.nan)
    misfit[used] = (mixed @ best.misfits).reshape(-1, 3) * 60.0
    middle = all_seen.mean(axis=1)
    return FramesSolution(
        estimate=AxisEstimate(
            float(best.values[0]),
            float(best.values[1]),
            best.information_about((0, 1)) / widened**2,
        ),
        turned_h=(turned + 12.0) % 24.0 - 12.0,
        misfit_arcsec=misfit,
        altitude_deg=np.degrees(np.arctan2(middle[:, 2], np.hypot(middle[:, 0], middle[:, 1]))),
        left_out=left_out,
        chi2=best.chi2,
        dof=best.dof,
        chance=chance_of_more(best.chi2, best.dof),
        widened=widened,
    )


def _refuse_same_attitude(seen: Floats, names: Sequence[str], across_arcmin: float) -> None:
    turns = np.degrees(np.linalg.norm(rotation_vector(rotation_between(seen[:1], seen)), axis=-1))
    least = max(LEAST_TURN_DEG, 10.0 * across_arcmin / 60.0)
    if turns.max() < least:
        raise AxletreeError(
            f"{names[0]} and {names[-1]} look the same way (turned by {turns.max() * 60:.1f}'): "
            "turn the hour axis between frames, best by an hour or more"
        )


def _odd_one(
    seen: Floats, errors: AttitudeErrors, observer: Observer, pole: Pole, dof: int
) -> int | None:
    """The one frame without which the others agree."""
    trials = []
    for k in range(len(seen)):
        others = np.arange(len(seen)) != k
        trial, _ = _solve(seen[others], errors.of(others), observer, pole)
        trials.append(trial)
    if dof >= 4:
        return odd_one([Without(trial.chi2, trial.dof) for trial in trials])
    # Three frames: any two agree, but only one pair may turn about something near the pole.
    off_deg = [math.hypot(trial.values[0], trial.values[1]) / 60.0 for trial in trials]
    near = [k for k, off in enumerate(off_deg) if off < FARTHEST_AXIS_DEG / 5.0]
    far = [k for k, off in enumerate(off_deg) if off > FARTHEST_AXIS_DEG / 2.0]
    return near[0] if len(near) == 1 and len(far) == len(trials) - 1 else None


def _solve(
    seen: Floats, errors: AttitudeErrors, observer: Observer, pole: Pole
) -> tuple[Fit, Floats]:
    """The fit, and what turns its misfits into arcminutes.

    Unknowns: high, east, the turns after the first frame, the first attitude's own error (all
    arcminutes), and for low frames the air's causes in their standard deviations. Misfits: three
    an attitude, across twice and about the line of sight.
    """
    count = len(seen)
    joined = rotation_between(seen[:1], seen)
    air = air_shifts(seen, observer, pole)
    altitude = pole_altitude_deg(observer, pole)
    latitude = observer.latitude_deg
    widest = int(np.argmax(np.linalg.norm(joined - np.eye(3), axis=(1, 2))))
    axis = axis_of(joined[widest])
    if axis @ polar_axis(latitude, pole_altitude_deg=altitude) < 0:
        axis = -axis
    high, east = axis_error_arcmin(axis, latitude, pole_altitude_deg=altitude)
    turns = turn_about(joined[1:], axis) / _ARCMIN
    start = np.concatenate([[float(high), float(east)], turns, np.zeros(3 + air.count)])
    sight = seen.mean(axis=1)
    sight = sight / np.linalg.norm(sight, axis=-1, keepdims=True)
    # Two directions square to each line of sight; which ones does not matter.
    _, _, vt = np.linalg.svd(sight[:, None, :])
    basis = np.stack([vt[:, 1], vt[:, 2], sight], axis=1)
    own_at = slice(1 + count, 4 + count)
    mixed = errors.mixed(basis)
    apart = np.linalg.inv(mixed)

    def model(x: Floats) -> Floats:
        rotations, pole_altitude = joined, np.asarray(altitude)
        if air.count:
            causes = x[..., own_at.stop :]
            lifted = small_rotation(np.einsum("...c,ckj->...kj", causes, air.turns))
            rotations = lifted @ joined @ np.swapaxes(lifted[..., :1, :, :], -1, -2)
            pole_altitude = altitude + causes @ air.pole_deg
        about = polar_axis(latitude, x[..., 0], x[..., 1], pole_altitude_deg=pole_altitude)
        angles = np.concatenate([np.zeros((*x.shape[:-1], 1)), x[..., 2 : 1 + count]], axis=-1)
        turned = rotation_about(about[..., None, :], angles * _ARCMIN)
        own = small_rotation(x[..., own_at] * _ARCMIN)[..., None, :, :]
        leftover = rotations @ np.swapaxes(turned @ own, -1, -2)
        parts = np.einsum("kij,...kj->...ki", basis, rotation_vector(leftover))
        return np.asarray(-parts.reshape(*x.shape[:-1], 3 * count) / _ARCMIN @ apart.T)

    observed = np.zeros(3 * count)
    spread = np.concatenate([np.full(4 + count, np.inf), np.ones(air.count)])
    return fit(model, start, observed, np.ones(3 * count), spread=spread), mixed
