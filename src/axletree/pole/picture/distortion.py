"""How do the polynomials in a header bend the picture?

Sources: D. L. Shupe et al. 2005, ASP Conf. Ser. 347, 491 (SIP: pixel offsets before the matrix);
FITS Registry of conventions, "TPV" (2011: plane coordinates after it, term by term as below).
"""

from __future__ import annotations

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.picture.fits_header import Header, number, whole
from axletree.sky.arrays import Floats

_HIGHEST_SIP = 9


def _tpv_terms() -> dict[int, tuple[int, int, int]]:
    """Powers of (own coordinate, other coordinate, radius) by the number m of PVi_m."""
    terms: dict[int, tuple[int, int, int]] = {}
    for degree in range(8):
        for other in range(degree + 1):
            terms[len(terms)] = (degree - other, other, 0)
        if degree % 2 == 1:
            terms[len(terms)] = (0, 0, degree)
    return terms


TPV_TERMS = _tpv_terms()


@dataclass(frozen=True)
class Distortion:
    """`sip_x, sip_y`: coefficients by powers of the pixel offsets. `tpv_x, tpv_y`: by TPV term."""

    sip_x: Floats | None = None
    sip_y: Floats | None = None
    tpv_x: Floats | None = None
    tpv_y: Floats | None = None


def read_distortion(header: Header, projection: str, lon: int, lat: int) -> Distortion:
    """The polynomials of a header whose longitude and latitude axes are `lon` and `lat`.

    A TAN header with PV terms beyond the four of the standard is read as TPV, as was usual
    before TPV had its name; beside SIP, such terms say the same once more and are left out.
    """
    sip_x, sip_y = _sip(header, "A"), _sip(header, "B")
    has_tpv = projection == "TPV" or (
        projection == "TAN"
        and sip_x is None
        and sip_y is None
        and any(number(header, f"PV{axis}_{m}") is not None for axis in (1, 2) for m in (5, 7, 10))
    )
    return Distortion(
        sip_x=sip_x,
        sip_y=sip_y,
        tpv_x=_tpv(header, lon) if has_tpv else None,
        tpv_y=_tpv(header, lat) if has_tpv else None,
    )


def _sip(header: Header, letter: str) -> Floats | None:
    order = whole(header, f"{letter}_ORDER")
    if order is None or order < 1:
        return None
    if order > _HIGHEST_SIP:
        raise AxletreeError(f"{letter}_ORDER is {order}; SIP polynomials go up to {_HIGHEST_SIP}")
    table = np.zeros((order + 1, order + 1))
    for p in range(order + 1):
        for q in range(order + 1 - p):
            table[p, q] = number(header, f"{letter}_{p}_{q}") or 0.0
    return table


def _tpv(header: Header, axis: int) -> Floats:
    table = np.zeros(len(TPV_TERMS))
    table[1] = 1.0
    for m in TPV_TERMS:
        given = number(header, f"PV{axis}_{m}")
        if given is not None:
            table[m] = given
    return table


def bend_pixels(bent: Distortion, u: Floats, v: Floats) -> tuple[Floats, Floats]:
    """Pixel offsets from the reference pixel with the SIP polynomials added."""
    return u + _sum(bent.sip_x, u, v), v + _sum(bent.sip_y, u, v)


def _sum(table: Floats | None, u: Floats, v: Floats) -> Floats:
    if table is None:
        return np.zeros(np.broadcast_shapes(u.shape, v.shape))
    a, b = np.broadcast_arrays(u, v)
    return np.asarray(np.polynomial.polynomial.polyval2d(a, b, table), dtype=np.float64)


def bend_plane(bent: Distortion, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Plane coordinates (degrees) after the TPV polynomials."""
    if bent.tpv_x is None or bent.tpv_y is None:
        return x, y
    r = np.hypot(x, y)
    return _tpv_sum(bent.tpv_x, x, y, r), _tpv_sum(bent.tpv_y, y, x, r)


def _tpv_sum(table: Floats, own: Floats, other: Floats, r: Floats) -> Floats:
    total = np.zeros_like(own)
    for m, (p, q, k) in TPV_TERMS.items():
        if table[m]:
            total = total + table[m] * own**p * other**q * r**k
    return total
