"""Which direction in the sky does each pixel of a frame look in, by the frame's own header?

Sources: E. W. Greisen and M. R. Calabretta 2002, A&A 395, 1061 (paper I: CRPIX, PC, CDELT, CD);
M. R. Calabretta and E. W. Greisen 2002, A&A 395, 1077 (paper II: the zenithal projections TAN,
SIN, STG, ARC, ZEA; RADESYS and EQUINOX; CROTA, section 6.1). Distortion: see `distortion`.
"""

from __future__ import annotations

from dataclasses import field

import erfa
import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.picture.distortion import Distortion, bend_pixels, bend_plane, read_distortion
from axletree.pole.picture.fits_header import Header, number, whole, words
from axletree.pole.picture.plate import Plate, plate_plane, read_plate
from axletree.sky.arrays import Floats
from axletree.sky.directions import vector_from_angles

_DEG = np.pi / 180.0
PROJECTIONS = ("TAN", "TPV", "SIN", "STG", "ARC", "ZEA")
_MOST_PIXELS = 1_000_000  # along one side
_LONGITUDES = {"RA": "DEC", "GLON": "GLAT", "ELON": "ELAT"}


@dataclass(frozen=True)
class Wcs:
    """A header's promise: pixel (x, y), counted from 0, to a direction.

    `matrix` (2, 2): intermediate coordinates in degrees a pixel, rows longitude, latitude.
    `reference_px`: the reference pixel counted from 0. `reference_deg`: its longitude and
    latitude in `system` ('icrs', 'fk5', 'fk4', 'galactic', 'ecliptic') with `equinox` where that
    matters. `plate`: a survey plate's own model, which then counts instead of the matrix.
    """

    width_px: int
    height_px: int
    reference_px: tuple[float, float]
    matrix: Floats
    reference_deg: tuple[float, float]
    native_pole_deg: float
    projection: str
    system: str
    equinox: float
    distortion: Distortion = field(default_factory=Distortion)
    random_error_deg: float | None = None
    plate: Plate | None = None

    @property
    def centre_px(self) -> tuple[float, float]:
        """The middle of the frame, counted from 0."""
        return (self.width_px - 1) / 2.0, (self.height_px - 1) / 2.0

    @property
    def mirrored(self) -> bool:
        """True where the frame shows the sky as in a mirror (in the counting of its own rows)."""
        return bool(np.linalg.det(self.matrix) > 0.0)


def read_wcs(header: Header) -> Wcs | None:
    """The celestial WCS of one header, None if it has none.

    Refuses in one line what it can't read: another projection, other units, a singular matrix.
    """
    axes = _celestial_axes(header)
    if axes is None:
        return None
    (lon, lat), kind, projection = axes
    if projection not in PROJECTIONS:
        raise AxletreeError(
            f"its projection {projection} is not one of {', '.join(PROJECTIONS)}; most programs "
            "that solve plates can write TAN or TAN-SIP"
        )
    values = [number(header, f"CRVAL{k}") for k in (lon, lat)]
    pixels = [number(header, f"CRPIX{k}") for k in (1, 2)]
    if None in values or None in pixels:
        raise AxletreeError("its WCS lacks CRVAL1, CRVAL2, CRPIX1 or CRPIX2")
    for k in (lon, lat):
        unit = words(header, f"CUNIT{k}").lower()
        if unit and not unit.startswith("deg"):
            raise AxletreeError(f"CUNIT{k} is '{unit}', not 'deg'")
    matrix = _matrix(header, lon, lat)
    if not np.all(np.isfinite(matrix)) or abs(np.linalg.det(matrix)) < 1e-24:
        raise AxletreeError("its WCS matrix (CD, PC or CDELT) is missing or singular")
    longitude, latitude = float(values[0] or 0.0), float(values[1] or 0.0)
    system, equinox = _system(header, kind)
    pole = number(header, "LONPOLE")
    if pole is None:
        # Paper II, section 2.4: 180 unless the reference point is the pole itself.
        pole = 0.0 if latitude >= 90.0 else 180.0
    width, height = _size(header, pixels)
    plate = read_plate(header) if projection == "TAN" and lon == 1 else None
    return Wcs(
        width_px=width,
        height_px=height,
        reference_px=(float(pixels[0] or 0.0) - 1.0, float(pixels[1] or 0.0) - 1.0),
        matrix=matrix,
        reference_deg=(longitude, latitude) if plate is None else plate.centre_deg,
        native_pole_deg=pole,
        projection=projection,
        system=system,
        equinox=equinox,
        distortion=read_distortion(header, projection, lon, lat),
        random_error_deg=number(header, f"CRDER{lat}"),
        plate=plate,
    )


def _celestial_axes(header: Header) -> tuple[tuple[int, int], str, str] | None:
    types = {k: words(header, f"CTYPE{k}").upper() for k in (1, 2)}
    for lon, lat in ((1, 2), (2, 1)):
        for kind, other in _LONGITUDES.items():
            if types[lon].split("-")[0] == kind and types[lat].split("-")[0] == other:
                return (lon, lat), kind, types[lon][5:8].strip("-")
    return None


def _size(header: Header, pixels: list[float | None]) -> tuple[int, int]:
    prefix = "ZNAXIS" if header.get("ZIMAGE") is True else "NAXIS"
    sizes = [whole(header, f"{prefix}{k}") or 0 for k in (1, 2)]
    if min(sizes) < 1:
        # A header without its picture: the reference pixel is usually the middle.
        sizes = [max(1, round(2 * (p or 0.0) - 1)) for p in pixels]
    if max(sizes) > _MOST_PIXELS:
        raise AxletreeError(
            f"{prefix}1 and {prefix}2 (or CRPIX1, CRPIX2) make a frame of "
            f"{float(sizes[0]):g} x {float(sizes[1]):g} pixels: no camera has so many"
        )
    return sizes[0], sizes[1]


def _matrix(header: Header, lon: int, lat: int) -> Floats:
    rows = (lon, lat)
    if any(number(header, f"CD{i}_{j}") is not None for i in (1, 2) for j in (1, 2)):
        return np.array([[number(header, f"CD{i}_{j}") or 0.0 for j in (1, 2)] for i in rows])
    scale = [number(header, f"CDELT{k}") for k in (1, 2)]
    if None in scale:
        return np.full((2, 2), np.nan)
    delta = np.array([float(s or 0.0) for s in scale])
    if any(number(header, f"PC{i}_{j}") is not None for i in (1, 2) for j in (1, 2)):
        turn = np.eye(2)
        for i in (1, 2):
            for j in (1, 2):
                given = number(header, f"PC{i}_{j}")
                turn[i - 1, j - 1] = turn[i - 1, j - 1] if given is None else given
    else:
        rho = (number(header, f"CROTA{lat}") or 0.0) * _DEG
        ratio = delta[lat - 1] / delta[lon - 1] if delta[lon - 1] else 0.0
        # Paper II, equation 189: written for longitude on the first axis.
        turn = np.eye(2) * np.cos(rho)
        turn[lon - 1, lat - 1] = -np.sin(rho) * ratio
        turn[lat - 1, lon - 1] = np.sin(rho) / ratio if ratio else 0.0
    full = delta[:, None] * turn
    return np.asarray(full[[lon - 1, lat - 1]])


def _system(header: Header, kind: str) -> tuple[str, float]:
    equinox = number(header, "EQUINOX")
    if equinox is None:
        equinox = number(header, "EPOCH")
    if kind == "GLON":
        return "galactic", 2000.0
    named = words(header, "RADESYS") or words(header, "RADECSYS")
    system = named.upper()
    if not system:
        # Paper II, section 3.1: without RADESYS the equinox decides.
        system = "ICRS" if equinox is None else "FK4" if equinox < 1984.0 else "FK5"
    if kind == "ELON":
        return "ecliptic", equinox or 2000.0
    if system in ("FK4", "FK4-NO-E"):
        return "fk4", equinox or 1950.0
    if system == "FK5":
        return "fk5", equinox or 2000.0
    if system in ("ICRS", "GCRS"):
        return "icrs", 2000.0
    raise AxletreeError(f"its RADESYS '{named}' is not ICRS, FK5 or FK4")


def directions(wcs: Wcs, x_px: ArrayLike, y_px: ArrayLike) -> Floats:
    """ICRS unit vectors (..., 3) of pixels counted from 0; whole numbers are pixel centres.

    nan where the projection has no sky (SIN, ZEA, ARC far outside the frame).
    """
    lon, lat = longitude_latitude(wcs, x_px, y_px)
    return _to_icrs(wcs, lon, lat)


def longitude_latitude(wcs: Wcs, x_px: ArrayLike, y_px: ArrayLike) -> tuple[Floats, Floats]:
    """Longitude and latitude of pixels in the header's own system, degrees.

    Source: paper II, equations 2, 14 and 15.
    """
    u = np.asarray(x_px, dtype=np.float64) - wcs.reference_px[0]
    v = np.asarray(y_px, dtype=np.float64) - wcs.reference_px[1]
    if wcs.plate is not None:
        x, y = plate_plane(wcs.plate, u + wcs.reference_px[0], v + wcs.reference_px[1])
    else:
        f, g = bend_pixels(wcs.distortion, u, v)
        x, y = bend_plane(
            wcs.distortion,
            wcs.matrix[0, 0] * f + wcs.matrix[0, 1] * g,
            wcs.matrix[1, 0] * f + wcs.matrix[1, 1] * g,
        )
    R = np.hypot(x, y) * _DEG
    phi = np.arctan2(x, -y)
    theta = np.pi / 2.0 - _zenith_distance(wcs.projection, R)
    delta_p = wcs.reference_deg[1] * _DEG
    dphi = phi - wcs.native_pole_deg * _DEG
    sin_t, cos_t = np.sin(theta), np.cos(theta)
    east = -cos_t * np.sin(dphi)
    along = sin_t * np.cos(delta_p) - cos_t * np.sin(delta_p) * np.cos(dphi)
    north = sin_t * np.sin(delta_p) + cos_t * np.cos(delta_p) * np.cos(dphi)
    lon = wcs.reference_deg[0] + np.arctan2(east, along) / _DEG
    return lon, np.arctan2(north, np.hypot(east, along)) / _DEG


def _zenith_distance(projection: str, R: Floats) -> Floats:
    """Distance from the reference point, radians. Paper II, sections 5.1.3 to 5.1.7."""
    with np.errstate(invalid="ignore"):
        if projection in ("TAN", "TPV"):
            return np.arctan(R)
        if projection == "SIN":
            return np.arcsin(R)
        if projection == "STG":
            return 2.0 * np.arctan(R / 2.0)
        if projection == "ZEA":
            return 2.0 * np.arcsin(R / 2.0)
        return R


def _to_icrs(wcs: Wcs, lon_deg: Floats, lat_deg: Floats) -> Floats:
    if wcs.system == "icrs":
        return vector_from_angles(lon_deg, lat_deg)
    lon, lat = lon_deg * _DEG, lat_deg * _DEG
    if wcs.system == "galactic":
        ra, dec = erfa.g2icrs(lon, lat)
    elif wcs.system == "ecliptic":
        jd = 2451545.0 + (wcs.equinox - 2000.0) * 365.25
        ra, dec = erfa.eceq06(jd, 0.0, lon, lat)
    elif wcs.system == "fk4":
        if abs(wcs.equinox - 1950.0) > 0.01:
            raise AxletreeError(f"its FK4 equinox {wcs.equinox:g} is not 1950")
        # A camera sees fixed directions: no proper motion in the inertial frame, epoch 1950.
        ra, dec = erfa.fk45z(lon, lat, 1950.0)
        ra, dec = erfa.fk5hz(ra, dec, 2451545.0, 0.0)
    else:
        vector = vector_from_angles(lon_deg, lat_deg)
        if wcs.equinox != 2000.0:
            since = 2451545.0 + (wcs.equinox - 2000.0) * 365.25
            # IAU 1976 precession belongs to FK5; its matrix takes J2000 to the date.
            vector = vector @ erfa.pmat76(since, 0.0)
        turn, _ = erfa.fk5hip()
        # FK5 to Hipparcos (ICRS).
        return np.asarray(vector @ turn.T)
    return vector_from_angles(ra / _DEG, dec / _DEG)
