"""Where does a direction fall in the picture, and which direction does a pixel look in?

Camera frame: x to the right of the picture, y down it, z ahead; directions are unit vectors
(..., 3). An attitude is the matrix (3, 3) that takes local directions into this frame. Central
projection with radial distortion (D. C. Brown 1966, Photogrammetric Engineering 32, 444; from
memory): a point at the distance r of the middle, in units of the focal length, is seen at
r (1 + bend r² + bend4 r⁴).
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats

_TURNS = 12


@dataclass(frozen=True)
class Lens:
    """Focal length and middle in pixels (counted from 0), and the radial distortion."""

    focal_px: float
    middle_px: tuple[float, float]
    bend: float = 0.0
    bend4: float = 0.0

    def zoomed(self, factor: float) -> Lens:
        """The same with another focal length."""
        return Lens(self.focal_px * factor, self.middle_px, self.bend, self.bend4)

    def bend_at(self, distance_px: float) -> float:
        """How far the distortion shifts a point so far from the middle, part of its distance."""
        r2 = (distance_px / self.focal_px) ** 2
        return self.bend * r2 + self.bend4 * r2 * r2


def plain_lens(width_px: int, height_px: int, focal_px: float) -> Lens:
    """A lens without faults, its middle in the middle of the picture."""
    return Lens(focal_px, ((width_px - 1) / 2.0, (height_px - 1) / 2.0))


def rays(lens: Lens, places_px: Floats) -> Floats:
    """Unit vectors (..., 3) in the camera frame of pixels (..., 2)."""
    seen = (np.asarray(places_px) - lens.middle_px) / lens.focal_px
    flat = seen.copy()
    if lens.bend or lens.bend4:
        for _ in range(_TURNS):
            r2 = np.sum(flat * flat, axis=-1, keepdims=True)
            flat = seen / np.maximum(1.0 + lens.bend * r2 + lens.bend4 * r2 * r2, 0.3)
    out = np.concatenate([flat, np.ones((*flat.shape[:-1], 1))], axis=-1)
    return np.asarray(out / np.linalg.norm(out, axis=-1, keepdims=True))


def places(lens: Lens, directions: Floats) -> Floats:
    """Pixels (..., 2) of camera-frame directions (..., 3); nan for those not ahead."""
    ahead = directions[..., 2:]
    with np.errstate(invalid="ignore", divide="ignore"):
        flat = np.where(ahead > 0.05, directions[..., :2] / ahead, np.nan)
        r2 = np.sum(flat * flat, axis=-1, keepdims=True)
        seen = flat * (1.0 + lens.bend * r2 + lens.bend4 * r2 * r2)
    return np.asarray(seen * lens.focal_px + lens.middle_px)


def half_diagonal_deg(width_px: int, height_px: int, focal_px: float) -> float:
    """From the middle of a picture to its corner."""
    return float(np.degrees(np.arctan(np.hypot(width_px, height_px) / 2.0 / focal_px)))


def field_deg(length_px: int, focal_px: float) -> float:
    """Angle over a length through the middle of the picture."""
    return float(2.0 * np.degrees(np.arctan(length_px / 2.0 / focal_px)))
