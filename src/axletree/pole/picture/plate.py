"""Where does a digitised survey plate look, by the polynomials of its own header?

The scans of the photographic sky surveys carry, beside ordinary coordinates that are good to an
arcsecond, the polynomials of the whole plate. Source: B. M. Lasker et al. 1990, AJ 99, 2019 (the
plate model, keywords AMDX and AMDY); the half pixel as in general coordinate libraries.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.picture.fits_header import Header, number, words
from axletree.sky.arrays import Floats


@dataclass(frozen=True)
class Plate:
    """A plate's scan: corner and size of the pixels, optical centre, polynomials (arcseconds)."""

    corner_px: tuple[float, float]
    pixel_um: tuple[float, float]
    centre_um: tuple[float, float]
    centre_deg: tuple[float, float]
    xi: Floats
    eta: Floats


def read_plate(header: Header) -> Plate | None:
    """The plate of a header that carries one whole, else None."""
    needed = (
        "CNPIX1", "CNPIX2", "XPIXELSZ", "YPIXELSZ", "PPO3", "PPO6", "PLTRAH", "PLTRAM", "PLTRAS",
        "PLTDECD", "PLTDECM", "PLTDECS", "AMDX1", "AMDY1",
    )  # fmt: skip
    v = {word: number(header, word) for word in needed}
    if any(value is None for value in v.values()):
        return None
    n = {word: float(value or 0.0) for word, value in v.items()}
    size = n["PLTDECD"] + n["PLTDECM"] / 60.0 + n["PLTDECS"] / 3600.0
    south = words(header, "PLTDECSN") == "-"
    return Plate(
        corner_px=(n["CNPIX1"], n["CNPIX2"]),
        pixel_um=(n["XPIXELSZ"], n["YPIXELSZ"]),
        centre_um=(n["PPO3"], n["PPO6"]),
        centre_deg=(
            15.0 * (n["PLTRAH"] + n["PLTRAM"] / 60.0 + n["PLTRAS"] / 3600.0),
            -size if south else size,
        ),
        xi=np.array([number(header, f"AMDX{k}") or 0.0 for k in range(1, 14)]),
        eta=np.array([number(header, f"AMDY{k}") or 0.0 for k in range(1, 14)]),
    )


def plate_plane(plate: Plate, x_px: Floats, y_px: Floats) -> tuple[Floats, Floats]:
    """Standard coordinates xi, eta in degrees of pixels counted from 0 at their middle."""
    # Millimetres on the plate, x growing to the east.
    x = (plate.centre_um[0] - plate.pixel_um[0] * (plate.corner_px[0] + x_px + 0.5)) / 1000.0
    y = (plate.pixel_um[1] * (plate.corner_px[1] + y_px + 0.5) - plate.centre_um[1]) / 1000.0
    return _polynomial(plate.xi, x, y), _polynomial(plate.eta, y, x)


def _polynomial(c: Floats, own: Floats, other: Floats) -> Floats:
    r2 = own * own + other * other
    terms = (
        own, other, np.ones_like(own), own**2, own * other, other**2, r2, own**3, own**2 * other,
        own * other**2, other**3, own * r2, own * r2 * r2,
    )  # fmt: skip
    total = np.zeros_like(own)
    for coefficient, term in zip(c, terms, strict=True):
        total = total + coefficient * term
    return total / 3600.0
