"""Where on a picture does a point appear, and how does that change with the camera?

A pinhole with radial distortion, x (1 + k r^2): D. C. Brown 1966, Photogrammetric Engineering 32,
444 (first term alone; from memory).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.rotations import small_rotation

# Ten numbers of a camera: turn (3, radians), place (3, metres), logarithm of the focal length,
# distortion, middle of the picture (2, parts of its width).
SIZE = 10
_STEP = np.array([1e-5] * 3 + [1e-5] * 3 + [1e-5, 1e-5, 1e-5, 1e-5])
_LEAST_DEPTH_M = 0.05


@dataclass(frozen=True, eq=False)
class PictureCamera:
    """A camera: `turn` (3, 3) from local coordinates to right, down, ahead; `place_m` (3,).

    `focal` in parts of the picture's width; `distortion` is k for r in parts of the focal length.
    """

    turn: Floats
    place_m: Floats
    focal: float
    distortion: float
    middle: Floats  # (2,), parts of the width, from the left upper corner
    width_px: float

    def moved(self, step: Floats) -> PictureCamera:
        """The camera after a step of its ten numbers."""
        return replace(
            self,
            turn=small_rotation(step[:3]) @ self.turn,
            place_m=self.place_m + step[3:6],
            focal=self.focal * float(np.exp(step[6])),
            distortion=self.distortion + float(step[7]),
            middle=self.middle + step[8:10],
        )

    def seen_px(self, points: Floats) -> Floats:
        """(m, 2) pixels of points (m, 3)."""
        x, y, z = ((points - self.place_m) @ self.turn.T).T
        z = np.maximum(z, _LEAST_DEPTH_M)
        flat = np.stack((x / z, y / z), axis=-1)
        swollen = flat * (1.0 + self.distortion * (flat**2).sum(axis=1, keepdims=True))
        return np.asarray((self.focal * swollen + self.middle) * self.width_px)

    def slopes(self, points: Floats) -> Floats:
        """(m, 2, 10): how pixels change with each number of the camera."""
        out = np.empty((len(points), 2, SIZE))
        for k in range(SIZE):
            step = np.zeros(SIZE)
            step[k] = _STEP[k]
            there, back = self.moved(step).seen_px(points), self.moved(-step).seen_px(points)
            out[:, :, k] = (there - back) / (2.0 * _STEP[k])
        return out

    def point_slopes(self, points: Floats) -> Floats:
        """(m, 2, 3): how pixels change with each point's place."""
        out = np.empty((len(points), 2, 3))
        for k in range(3):
            step = np.zeros(3)
            step[k] = 1e-5
            out[:, :, k] = (self.seen_px(points + step) - self.seen_px(points - step)) / 2e-5
        return out


def looking(
    from_m: Floats, at_m: Floats, focal: float, width_px: float, middle: Floats
) -> PictureCamera:
    """A level camera that looks from one place at another, without distortion."""
    ahead = at_m - from_m
    ahead = ahead / np.linalg.norm(ahead)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right = right / np.linalg.norm(right)
    turn = np.stack((right, np.cross(ahead, right), ahead))
    return PictureCamera(turn, np.asarray(from_m), focal, 0.0, middle, width_px)
