"""Frames that a camera on an imperfect mount would take, solved as plate solvers do.

Belongs to `simulator` and shares no code with the solver either: sky positions by astropy, the
plate solution by linear least squares about the frame's middle.
"""

from __future__ import annotations

import numpy as np
from astropy import units as u
from astropy.coordinates import ICRS, AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers
from scipy.spatial.transform import Rotation
from simulator import ARCMIN, SIDEREAL, Place

iers.conf.auto_download = False
iers.conf.auto_max_age = None

SIZE_PX = (1200, 800)


def pixels():
    """A grid of pixels (n,) counted from 0, and their offsets from the frame's middle."""
    x, y = np.meshgrid(np.linspace(0, SIZE_PX[0] - 1, 5), np.linspace(0, SIZE_PX[1] - 1, 5))
    return x.ravel(), y.ravel()


def rays(scale_arcsec, roll_deg):
    """Directions of the pixels in the tube's frame: x ahead, z towards the axis' pole at nought."""
    x, y = pixels()
    tan = np.radians(scale_arcsec / 3600.0)
    a, b = (x - (SIZE_PX[0] - 1) / 2) * tan, (y - (SIZE_PX[1] - 1) / 2) * tan
    flat = np.stack([np.ones_like(a), a, b], axis=-1)
    flat /= np.linalg.norm(flat, axis=-1, keepdims=True)
    return Rotation.from_euler("x", roll_deg, degrees=True).apply(flat)


def seen_pixels(place: Place, hours, declination_deg, scale_arcsec, roll_deg, noise=None):
    """Local directions (frames, n, 3), seen through the air, of a tube turned to hour angles.

    `noise` (frames, 3), radians: a last small turn of each frame about (x, y ahead, z) in the
    tube's frame, x along the line of sight.
    """
    lead = -1.0 if place.south else 1.0
    tube = rays(scale_arcsec, roll_deg)
    out = []
    for k, hour in enumerate(np.atleast_1d(hours)):
        wobble = Rotation.identity() if noise is None else Rotation.from_rotvec(noise[k])
        swing = Rotation.from_euler("y", -declination_deg * lead, degrees=True)
        turn = Rotation.from_euler("z", -lead * 15.0 * hour, degrees=True)
        out.append((place.mount * turn * swing * wobble).apply(tube))
    return np.array(out)


def to_icrs(places, longitude_deg, elevation_m, seen, moments: Time):
    """ICRS unit vectors of local directions (places, frames, n, 3) at moments (places, frames)."""
    true = np.array([place.unseen(s) for place, s in zip(places, seen, strict=True)])
    alt = np.degrees(np.arcsin(true[..., 2]))
    az = np.degrees(np.arctan2(true[..., 0], true[..., 1]))
    latitude = np.array([place.latitude_deg for place in places])
    site = EarthLocation.from_geodetic(
        np.broadcast_to(longitude_deg, latitude.shape), latitude, elevation_m
    )
    frame = AltAz(obstime=moments[..., None], location=site[:, None, None])
    sky = SkyCoord(az=az * u.deg, alt=alt * u.deg, frame=frame).transform_to(ICRS())
    return np.stack([sky.cartesian.x.value, sky.cartesian.y.value, sky.cartesian.z.value], axis=-1)


def solved_header(icrs):
    """A TAN header for directions (n, 3) of `pixels()`: the middle, and a matrix that fits."""
    x, y = pixels()
    middle = icrs.mean(axis=0)
    middle /= np.linalg.norm(middle)
    ra, dec = np.arctan2(middle[1], middle[0]), np.arcsin(middle[2])
    east = np.array([-np.sin(ra), np.cos(ra), 0.0])
    north = np.cross(middle, east)
    toward = icrs @ middle
    plane = np.degrees(np.stack([icrs @ east / toward, icrs @ north / toward]))
    table = np.stack([x, y, np.ones_like(x)])
    (cd, offset) = np.split(np.linalg.lstsq(table.T, plane.T, rcond=None)[0].T, [2], axis=1)
    reference = np.linalg.solve(cd, -offset[:, 0])
    return {
        "NAXIS": 2, "NAXIS1": SIZE_PX[0], "NAXIS2": SIZE_PX[1],
        "CTYPE1": "RA---TAN", "CTYPE2": "DEC--TAN", "RADESYS": "ICRS",
        "CRPIX1": float(reference[0] + 1), "CRPIX2": float(reference[1] + 1),
        "CRVAL1": float(np.degrees(ra) % 360), "CRVAL2": float(np.degrees(dec)),
        "CD1_1": float(cd[0, 0]), "CD1_2": float(cd[0, 1]),
        "CD2_1": float(cd[1, 0]), "CD2_2": float(cd[1, 1]),
    }  # fmt: skip


def frame_headers(place, longitude_deg, elevation_m, hours, declination_deg, start, *,
                  scale_arcsec=2.0, roll_deg=0.0, every_s=120.0, noise=None, exposure_s=4.0,
                  drive=False):  # fmt: skip
    """Headers of frames taken `every_s` seconds from `start`; with the drive on, the hour axis
    follows the sky on top of being turned to `hours`."""
    hours = np.atleast_1d(np.asarray(hours, dtype=float))
    after = np.arange(len(hours)) * every_s
    if drive:
        hours = hours + after * SIDEREAL / 3600.0
    seen = seen_pixels(place, hours, declination_deg, scale_arcsec, roll_deg, noise)
    moments = Time(start) + after * u.s
    icrs = to_icrs([place], longitude_deg, elevation_m, seen[None], moments[None])[0]
    begin = moments - exposure_s / 2 * u.s
    begin.format, begin.precision = "isot", 6
    return [
        {**solved_header(icrs[k]), "DATE-OBS": str(begin[k].value), "EXPTIME": exposure_s}
        for k in range(len(hours))
    ]


ARCSEC = ARCMIN / 60.0
