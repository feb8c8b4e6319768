"""From where was a picture taken, roughly?"""

from __future__ import annotations

import numpy as np

from axletree.mount.photographed.camera import PictureCamera, looking
from axletree.mount.photographed.picture import MarkedPicture
from axletree.sky.arrays import Floats

# A phone's lens where nobody says better: 26 mm in terms of film, that is 0.72 of the longer side
# (common practice, no source).
USUAL_35MM = 26.0
_FILM_MM = 36.0
_DIRECTIONS = 12
_ROUNDS = 40
_HEIGHT_M = 1.3


def focal_of(picture: MarkedPicture) -> float:
    """The focal length in parts of the picture's width."""
    longer = max(picture.width_px, picture.height_px)
    film = picture.focal_35mm or USUAL_35MM
    return film / _FILM_MM * longer / picture.width_px


def begun(picture: MarkedPicture, points: Floats, px: Floats) -> PictureCamera:
    """The camera that fits marks (m, 2) of places (m, 3) best, its lens as it is taken to be; tried
    from all around."""
    focal = focal_of(picture)
    middle = np.array([0.5, 0.5 * picture.height_px / picture.width_px])
    centre = points.mean(axis=0)
    size = float(np.ptp(px, axis=0).max())
    wide = float(np.linalg.norm(np.ptp(points, axis=0)))
    far = max(1.0, focal * picture.width_px * wide / max(size, 1.0))
    tried = []
    for k in range(_DIRECTIONS):
        a = 2.0 * np.pi * k / _DIRECTIONS
        place = centre + far * np.array([np.sin(a), np.cos(a), 0.0])
        place[2] = _HEIGHT_M
        camera = looking(place, centre, focal, float(picture.width_px), middle)
        tried.append(_fitted(camera, points, px))
    return min(tried, key=lambda one: one[0])[1]


def _fitted(camera: PictureCamera, points: Floats, px: Floats) -> tuple[float, PictureCamera]:
    """Turn and place by damped least squares (K. Levenberg 1944, Quart. Appl. Math. 2, 164)."""
    damp, cost = 1e-2, _cost(camera, points, px)
    for _ in range(_ROUNDS):
        J = camera.slopes(points)[:, :, :6].reshape(-1, 6)
        r = (px - camera.seen_px(points)).ravel()
        H = J.T @ J
        step = np.zeros(10)
        step[:6] = np.linalg.solve(H + damp * np.diag(np.diagonal(H) + 1e-9), J.T @ r)
        there = camera.moved(step)
        new = _cost(there, points, px)
        if new < cost:
            small = cost - new < 1e-9 * cost
            camera, cost, damp = there, new, damp / 5.0
            if small:
                break
        else:
            damp *= 5.0
            if damp > 1e9:
                break
    return cost, camera


def _cost(camera: PictureCamera, points: Floats, px: Floats) -> float:
    behind = ((points - camera.place_m) @ camera.turn.T)[:, 2] < 0.1
    return float(((px - camera.seen_px(points)) ** 2).sum()) + 1e12 * float(behind.sum())
