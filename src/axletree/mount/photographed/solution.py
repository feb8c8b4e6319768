"""Which dimensions and cameras make the marks of all pictures most likely?

Robust least squares with what is known of the dimensions beforehand: marks count less the farther
they lie off (P. J. Huber 1964, Ann. Math. Statist. 35, 73), steps damped (K. Levenberg 1944, Quart.
Appl. Math. 2, 164). What pictures don't show stays as open as the kit left it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.dimensions.of_kit import Dimensions, dimensions_of
from axletree.mount.photographed.camera import SIZE, PictureCamera
from axletree.mount.photographed.picture import MarkedPicture, RigPlace
from axletree.mount.photographed.places import PLACES, POSE_SIGMA_DEG, places_m
from axletree.mount.photographed.start import begun
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.parts import Rig
from axletree.mount.sure.shapes import changed_rig
from axletree.sky.arrays import Floats, Indices

_HUBER = 1.5  # standard deviations from which a mark counts less
# Beforehand, one standard deviation: lens of a phone, as its file tells it or as usual; distortion;
# middle of the picture (our figures).
_LENS, _LENS_UNKNOWN, _DISTORTION, _MIDDLE = 0.03, 0.2, 0.04, 0.01
_OUTER, _INNER = 6, 12
_STEP = 0.3  # of a standard deviation, by which dimensions are changed
FAR_OFF = 4.0  # standard deviations from which a mark is named as wrong


@dataclass(frozen=True, eq=False)
class MarkLeft:
    """How far a mark lies from where the solution has its place, pixels and deviations."""

    picture: int
    place: RigPlace
    off_px: float
    sigmas: float


@dataclass(frozen=True, eq=False)
class PhotographedRig:
    """The likeliest dimensions (n,) and what is left open of them (n, n); the cameras.

    `marks`: those that lie far off; `rms_px` of all others.
    """

    known: Dimensions
    values: Floats
    covariance: Floats
    cameras: tuple[PictureCamera, ...]
    marks: tuple[MarkLeft, ...]
    rms_px: float

    @property
    def sigmas(self) -> Floats:
        """One standard deviation of each dimension (n,)."""
        return np.sqrt(np.maximum(np.diagonal(self.covariance), 0.0))


@dataclass(frozen=True, eq=False)
class _Shown:
    """One picture: which places, where on it, and how well its lens is known."""

    rows: Indices
    px: Floats
    picture: MarkedPicture
    prior: Floats  # (10,) one standard deviation of each number of the camera, inf for none


def photographed(kit: Kit, pictures: Sequence[MarkedPicture]) -> PhotographedRig:
    """What one or more pictures say of the kit's rig, weights down and the tube along the polar
    axis. Refuses places that this rig doesn't have."""
    rig, known = build_rig(kit), dimensions_of(kit)
    root = known.root
    state = _Unknowns(kit, rig, known)
    points, _ = state.places(np.zeros(state.size), slopes=False)
    shown = [_shown(picture, points) for picture in pictures]
    cameras = [begun(one.picture, points[one.rows], one.px) for one in shown]
    first = list(cameras)
    z, damp = np.zeros(state.size), 1e-3
    for _ in range(_OUTER):
        z, cameras, moved, damp = _improved(state, shown, z, cameras, first, damp)
        if moved < 1e-3:
            break
    points, slopes = state.places(z)
    H, _, residuals = _normal(state, shown, z, cameras, first, points, slopes)
    open_ = np.linalg.inv(H)[: state.size, : state.size]
    r = root.shape[1]
    covariance = root @ open_[:r, :r] @ root.T
    off, sigmas = residuals
    far = sigmas > FAR_OFF
    marks = [
        MarkLeft(k, PLACES[row], float(px), float(s))
        for (k, row), px, s in zip(_labels(shown), off, sigmas, strict=True) if s > FAR_OFF
    ]  # fmt: skip
    rms = float(np.sqrt((off[~far] ** 2).mean())) if (~far).any() else float("nan")
    return PhotographedRig(
        known, known.values + root @ z[:r], covariance, tuple(cameras), tuple(marks), rms
    )


@dataclass(frozen=True, eq=False)
class _Unknowns:
    """The rig's numbers: r independent normal ones for its dimensions, three for its pose."""

    kit: Kit
    rig: Rig
    known: Dimensions

    @property
    def size(self) -> int:
        return int(self.known.root.shape[1]) + 3

    def at(self, z: Floats) -> Floats:
        """(places, 3) for these numbers."""
        root = self.known.root
        r = root.shape[1]
        values = self.known.values + root @ z[:r]
        made = changed_rig(self.kit, self.rig, self.known.names, values)
        return places_m(made, self.kit.site.latitude_deg, z[r:] * POSE_SIGMA_DEG)

    def places(self, z: Floats, *, slopes: bool = True) -> tuple[Floats, Floats]:
        """The same with their slopes (places, 3, size)."""
        here = self.at(z)
        out = np.zeros((*here.shape, self.size))
        for k in range(self.size if slopes else 0):
            step = np.zeros(self.size)
            step[k] = _STEP
            out[:, :, k] = (self.at(z + step) - here) / _STEP
        return here, out


def _shown(picture: MarkedPicture, points: Floats) -> _Shown:
    rows = np.array([PLACES.index(place) for place, _, _ in picture.marks])
    ends = [] if picture.known is None else [picture.known.start, picture.known.end]
    for row in [*rows.tolist(), *(PLACES.index(end) for end in ends)]:
        if np.isnan(points[row]).any():
            raise AxletreeError(f"this kit's rig has no '{PLACES[row].value}'")
    lens = _LENS_UNKNOWN if picture.focal_35mm is None else _LENS
    prior = np.array([np.inf] * 6 + [lens, _DISTORTION, _MIDDLE, _MIDDLE])
    return _Shown(rows, np.array([(x, y) for _, x, y in picture.marks]), picture, prior)


def _labels(shown: Sequence[_Shown]) -> list[tuple[int, int]]:
    return [(k, int(row)) for k, one in enumerate(shown) for row in one.rows]


def _improved(
    state: _Unknowns, shown: Sequence[_Shown], z: Floats, cameras: list[PictureCamera],
    first: Sequence[PictureCamera], damp: float,
) -> tuple[Floats, list[PictureCamera], float, float]:  # fmt: skip
    """One round: places taken as straight in the dimensions; how far these moved in it."""
    points, slopes = state.places(z)
    begin = z
    cost = _cost(shown, z, cameras, first, points)
    for _ in range(_INNER):
        there = points + slopes @ (z - begin)
        H, g, _ = _normal(state, shown, z, cameras, first, there, slopes)
        step: Floats = np.asarray(np.linalg.solve(H + damp * np.diag(np.diagonal(H)), g))
        new_z = z + step[: state.size]
        moved = [
            camera.moved(step[state.size + SIZE * k : state.size + SIZE * (k + 1)])
            for k, camera in enumerate(cameras)
        ]
        new = _cost(shown, new_z, moved, first, points + slopes @ (new_z - begin))
        if new < cost:
            done = cost - new < 1e-6 * max(cost, 1.0)
            z, cameras, cost, damp = new_z, moved, new, max(damp / 5.0, 1e-9)
            if done:
                break
        else:
            damp = min(damp * 5.0, 1e6)
    return z, cameras, float(np.abs(z - begin).max()), damp


def _camera_off(camera: PictureCamera, first: PictureCamera) -> Floats:
    """(10,): how far the lens is from what it was taken to be; turn and place are free."""
    off = np.zeros(SIZE)
    off[6] = np.log(camera.focal / first.focal)
    off[7] = camera.distortion - first.distortion
    off[8:] = camera.middle - first.middle
    return off


def _lengths(shown: Sequence[_Shown], points: Floats) -> list[tuple[int, int, float, float, float]]:
    """Both places, the length that they stand apart, that is known, its error; metres."""
    out = []
    for one in shown:
        if one.picture.known is not None:
            known = one.picture.known
            a, b = PLACES.index(known.start), PLACES.index(known.end)
            apart = float(np.linalg.norm(points[b] - points[a]))
            out.append((a, b, apart, known.length_mm / 1e3, known.error_mm / 1e3))
    return out


def _cost(
    shown: Sequence[_Shown], z: Floats, cameras: Sequence[PictureCamera],
    first: Sequence[PictureCamera], points: Floats,
) -> float:  # fmt: skip
    total = float(z @ z)
    for one, camera, begin in zip(shown, cameras, first, strict=True):
        off = (one.px - camera.seen_px(points[one.rows])) / one.picture.sigma_px
        size = np.linalg.norm(off, axis=1)
        total += float(np.where(size < _HUBER, size**2, _HUBER * (2.0 * size - _HUBER)).sum())
        total += float(((_camera_off(camera, begin) / one.prior) ** 2).sum())
    total += sum(((apart - told) / error) ** 2 for _, _, apart, told, error in
                 _lengths(shown, points))  # fmt: skip
    return total


def _normal(
    state: _Unknowns, shown: Sequence[_Shown], z: Floats, cameras: Sequence[PictureCamera],
    first: Sequence[PictureCamera], points: Floats, slopes: Floats,
) -> tuple[Floats, Floats, tuple[Floats, Floats]]:  # fmt: skip
    """Normal matrix and right side of all numbers; of every mark how far off, pixels and sigmas."""
    n = state.size
    size = n + SIZE * len(shown)
    H, g = np.zeros((size, size)), np.zeros(size)
    H[:n, :n] += np.eye(n)
    g[:n] -= z
    offs, sigmas = [], []
    for k, (one, camera, begin) in enumerate(zip(shown, cameras, first, strict=True)):
        at = points[one.rows]
        r = (one.px - camera.seen_px(at)) / one.picture.sigma_px
        far = np.linalg.norm(r, axis=1)
        weight = np.minimum(1.0, _HUBER / np.maximum(far, 1e-12))
        J = np.zeros((len(at), 2, size))
        J[:, :, :n] = np.einsum("mij,mjk->mik", camera.point_slopes(at), slopes[one.rows])
        own = slice(n + SIZE * k, n + SIZE * (k + 1))
        J[:, :, own] = camera.slopes(at)
        J /= one.picture.sigma_px
        flat, heavy = J.reshape(-1, size), np.repeat(weight, 2)
        H += flat.T @ (flat * heavy[:, None])
        g += flat.T @ (r.ravel() * heavy)
        H[own, own] += np.diag(one.prior**-2.0)
        g[own] -= _camera_off(camera, begin) / one.prior**2
        offs.append(far * one.picture.sigma_px)
        sigmas.append(far)
    for a, b, apart, told, error in _lengths(shown, points):
        line = (points[b] - points[a]) / apart
        row = np.zeros(size)
        row[:n] = line @ (slopes[b] - slopes[a]) / error
        H += np.outer(row, row)
        g += row * ((told - apart) / error)
    return H, g, (np.concatenate(offs), np.concatenate(sigmas))
