"""Photographs of the sky that a camera on an imperfect mount would take, with all that spoils them.

Belongs to the tests of `pole/photographs` and to `benchmarks/pictures.py`; shares no code with the
solver: places by ERFA's `atco13` (IAU 2006/2000A, its own refraction), the stars straight from the
data files, fainter ones than any list strewn among them, the light in photo-electrons.

Figures of cameras and sky are common practice, no source: 3e10 photons a second and square metre of
a star of V 0 over the visible band, 0.4 of them counted, two electrons of read noise.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import erfa
import numpy as np
from PIL import Image

DATA = Path(__file__).parents[2] / "src" / "axletree" / "data"
PHOTONS, COUNTED, READ_NOISE = 3e10, 0.4, 2.0
SIDEREAL_RAD_S = 7.2921159e-5
GAMMA = 1.0 / 2.2
YEARS = 26.87


@cache
def all_stars():
    """ICRS right ascension, declination (rad) and V of what the files hold, and of fainter stars:
    to every one of V 9 to 10 six within half a degree, of V 10 to 12.5."""
    parts = [np.load(DATA / name) for name in ("stars.npy", "stars_gaps.npy")]
    # Moved by hand from J2000.0 to the end of 2026; the Gaia files know no motions.
    dec = np.concatenate(
        [np.radians(p["dec_deg"] + YEARS * p["pm_dec_mas_yr"] / 3.6e6) for p in parts]
    )
    ra = np.concatenate(
        [
            np.radians(
                p["ra_deg"]
                + YEARS * p["pm_ra_cosdec_mas_yr"] / 3.6e6 / np.cos(np.radians(p["dec_deg"]))
            )
            for p in parts
        ]
    )
    v = np.concatenate([p["magnitude_v"] for p in parts]).astype(float)
    faint = np.load(DATA / "stars_faint.npy")
    unit = 2.0 * np.pi / 2.0**32
    ra = np.concatenate([ra, faint["ra"] * unit])
    dec = np.concatenate([dec, faint["dec"] * unit])
    v = np.concatenate([v, faint["v"] / 1000.0])
    rng = np.random.default_rng(8)
    near = np.repeat(np.flatnonzero(v > 9.0), 6)
    away = rng.normal(0.0, np.radians(0.3), (2, len(near)))
    more_dec = np.clip(dec[near] + away[0], -1.5706, 1.5706)
    more_ra = ra[near] + away[1] / np.cos(more_dec)
    # Numbers grow 2.5 times a magnitude.
    more_v = 10.0 + np.log(1.0 + rng.random(len(near)) * (2.5**2.5 - 1.0)) / np.log(2.5)
    ra, dec = np.concatenate([ra, more_ra]), np.concatenate([dec, more_dec])
    v = np.concatenate([v, more_v])
    order = np.argsort(v)
    return ra[order], dec[order], v[order]


@cache
def unit_vectors():
    """The same as directions (n, 3)."""
    ra, dec, _ = all_stars()
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], -1)


@dataclass(frozen=True)
class Site:
    """Where the mount stands, and the air."""

    latitude_deg: float = 50.0
    longitude_deg: float = 9.0
    elevation_m: float = 200.0
    pressure_hpa: float = 989.0
    temperature_c: float = 8.0


@dataclass(frozen=True)
class Camera:
    """Lens and sensor: millimetres, f-number, micrometres, pixels."""

    focal_mm: float = 200.0
    f_number: float = 4.0
    pixel_um: float = 4.3
    width_px: int = 3000
    height_px: int = 2000
    spot_px: float = 1.2  # standard deviation of a star's image: seeing, focus, lens
    coma: float = 0.0  # part of the spot's size by which it is drawn outward at the corner
    bend_at_corner: float = 0.0  # displacement at the corner, part of its distance
    middle_off: tuple[float, float] = (0.0, 0.0)  # of the lens middle, parts of the width
    hot_pixels: int = 60
    seed: int = 1  # of the sensor: its hot pixels stay

    @property
    def focal_px(self) -> float:
        return self.focal_mm * 1000.0 / self.pixel_um

    @property
    def middle_px(self):
        return (
            (self.width_px - 1) / 2.0 + self.middle_off[0] * self.width_px,
            (self.height_px - 1) / 2.0 + self.middle_off[1] * self.width_px,
        )

    @property
    def bend(self) -> float:
        corner = np.hypot(self.width_px, self.height_px) / 2.0 / self.focal_px
        return self.bend_at_corner / corner**2


@dataclass(frozen=True)
class Sky:
    """What the sky and the neighbourhood are like."""

    brightness_mag: float = 20.5  # of a square arcsecond
    gradient: float = 0.3  # part by which it grows across the picture
    moon_glow: float = 0.0  # times the sky, about one corner
    cloud: float = 0.0  # part of the picture
    trees: float = 0.0  # part of the picture's height
    satellites: int = 0


@dataclass(frozen=True)
class Exposure:
    """When, how long, whether the drive runs."""

    middle: datetime = datetime(2026, 11, 12, 20, 0, tzinfo=UTC)
    seconds: float = 2.0
    driven: bool = False
    quality: int = 80
    seed: int = 2


@dataclass(frozen=True)
class Photograph:
    """The picture as a JPEG file's bytes, and the attitude it was taken in."""

    jpeg: bytes
    attitude: np.ndarray
    camera: Camera
    exposure: Exposure
    raw: np.ndarray = field(repr=False)


def apparent(site: Site, moment: datetime, ra, dec):
    """Local unit vectors (n, 3), x east, y north, z up, as seen through the air."""
    jd1, jd2 = erfa.dtf2d("UTC", moment.year, moment.month, moment.day, moment.hour,
                          moment.minute, moment.second + moment.microsecond * 1e-6)  # fmt: skip
    astrom, _ = erfa.apco13(
        jd1, jd2, dut1(moment), np.radians(site.longitude_deg), np.radians(site.latitude_deg),
        site.elevation_m, *pole_motion(moment), site.pressure_hpa, site.temperature_c, 0.0, 0.55,
    )  # fmt: skip
    azimuth, zenith, *_ = erfa.atioq(*erfa.atciqz(ra, dec, astrom), astrom)
    return np.stack(
        [np.sin(zenith) * np.sin(azimuth), np.sin(zenith) * np.cos(azimuth), np.cos(zenith)], -1
    )


def icrs(site: Site, moment: datetime, direction):
    """The direction among the stars (3,) of a local one, through the air."""
    jd1, jd2 = erfa.dtf2d("UTC", moment.year, moment.month, moment.day, moment.hour,
                          moment.minute, moment.second + moment.microsecond * 1e-6)  # fmt: skip
    azimuth = np.arctan2(direction[0], direction[1])
    zenith = np.arccos(np.clip(direction[2], -1, 1))
    ra, dec = erfa.atoc13(
        "A", azimuth, min(zenith, 1.5), jd1, jd2, dut1(moment), np.radians(site.longitude_deg),
        np.radians(site.latitude_deg), site.elevation_m, 0.0, 0.0, site.pressure_hpa,
        site.temperature_c, 0.0, 0.55,
    )  # fmt: skip
    return np.array([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)])


@cache
def dut1(moment: datetime) -> float:
    """UT1-UTC in seconds, from the IERS table as astropy reads it."""
    return float(_earth(moment)[0])


@cache
def pole_motion(moment: datetime) -> tuple[float, float]:
    """The pole's motion x, y in radians, from the same table."""
    return _earth(moment)[1:]


def _earth(moment: datetime) -> tuple[float, float, float]:
    from astropy.time import Time
    from astropy.utils import iers

    iers.conf.auto_download = False
    iers.conf.auto_max_age = None
    at = Time(moment.replace(tzinfo=None), scale="utc")
    x, y = iers.earth_orientation_table.get().pm_xy(at)
    return float(at.delta_ut1_utc), float(x.to_value("rad")), float(y.to_value("rad"))


def turn(axis, angle_rad):
    """Right-handed turn about a unit vector."""
    x, y, z = axis
    k = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + np.sin(angle_rad) * k + (1 - np.cos(angle_rad)) * (k @ k)


def attitude_towards(direction, roll_deg: float):
    """The matrix from local directions into the camera (x right, y down, z ahead)."""
    ahead = np.asarray(direction, float) / np.linalg.norm(direction)
    helper = np.array([0.0, 0.0, 1.0]) if abs(ahead[2]) < 0.9 else np.array([0.0, 1.0, 0.0])
    right = np.cross(ahead, helper)
    right /= np.linalg.norm(right)
    down = np.cross(ahead, right)
    c, s = np.cos(np.radians(roll_deg)), np.sin(np.radians(roll_deg))
    return np.stack([c * right + s * down, -s * right + c * down, ahead])


def axis_direction(site: Site, high_arcmin: float, east_arcmin: float):
    """The mount's axis: so far above and east of the refracted pole."""
    altitude = abs(site.latitude_deg)
    pole = np.array([0.0, np.cos(np.radians(altitude)), np.sin(np.radians(altitude))])
    # ERFA's constants of the air; the pole's own zenith distance.
    a, b = erfa.refco(site.pressure_hpa, site.temperature_c, 0.0, 0.55)
    z = np.radians(90.0 - altitude)
    for _ in range(5):
        z = np.radians(90.0 - altitude) - a * np.tan(z) - b * np.tan(z) ** 3
    pole = np.array([0.0, np.sin(z), np.cos(z)])
    up = np.array([0.0, -np.cos(z), np.sin(z)])
    east = np.array([1.0, 0.0, 0.0])
    off = np.radians(np.array([high_arcmin, east_arcmin]) / 60.0)
    size = np.hypot(*off)
    out = np.cos(size) * pole + np.sinc(size / np.pi) * (off[0] * up + off[1] * east)
    return out * ([1, 1, 1] if site.latitude_deg >= 0 else [1, -1, 1])


def seen_places(camera: Camera, attitude, directions):
    """Pixels (n, 2) of local directions; nan behind."""
    c = directions @ attitude.T
    with np.errstate(divide="ignore", invalid="ignore"):
        flat = np.where(c[:, 2:] > 0.05, c[:, :2] / c[:, 2:], np.nan)
    r2 = np.sum(flat**2, axis=1, keepdims=True)
    # A third of the bend in the fourth order: no lens is as simple as its formula.
    corner2 = (np.hypot(camera.width_px, camera.height_px) / 2.0 / camera.focal_px) ** 2
    bent = flat * (1.0 + camera.bend * r2 * (0.8 + 0.2 * r2 / corner2))
    return bent * camera.focal_px + np.array(camera.middle_px)


def photograph(site: Site, camera: Camera, sky: Sky, attitude, exposure: Exposure) -> Photograph:
    """One picture."""
    rng = np.random.default_rng(exposure.seed)
    ra, dec, v = all_stars()
    square = (206.265 * camera.pixel_um / camera.focal_mm) ** 2
    per_pixel = electrons(camera, exposure, sky.brightness_mag - 2.5 * np.log10(square))
    limit = faintest(camera, exposure, float(per_pixel))
    moment = exposure.middle
    corner = np.arctan(np.hypot(camera.width_px, camera.height_px) / 2.0 / camera.focal_px)
    reach = np.cos(min(corner * 1.15 + 0.02, 1.45))
    bright = slice(0, int(np.searchsorted(v, limit)))
    chosen = np.flatnonzero(unit_vectors()[bright] @ icrs(site, moment, attitude[2]) > reach)
    centre = apparent(site, moment, ra[chosen], dec[chosen])
    near = centre @ attitude[2] > reach
    chosen, centre = chosen[near], centre[near]
    above = centre[:, 2] > 0.02
    chosen, centre = chosen[above], centre[above]
    at = seen_places(camera, attitude, centre)
    if exposure.driven:
        ends = np.stack([at, at])
    else:
        half = timedelta(seconds=exposure.seconds / 2.0)
        ends = np.stack([
            seen_places(camera, attitude, apparent(site, m, ra[chosen], dec[chosen]))
            for m in (moment - half, moment + half)
        ])  # fmt: skip
    light = electrons(camera, exposure, v[chosen])
    colour = np.clip(rng.normal(1.0, 0.15, (len(chosen), 3)), 0.5, 1.6)
    colour[:, 1] = 1.0
    extinction = np.ones((camera.height_px, camera.width_px), np.float32)
    glow = np.zeros_like(extinction)
    xx = (np.arange(camera.width_px, dtype=np.float32) / camera.width_px - 0.5)[None, :]
    tall = camera.height_px / camera.width_px
    yy = (np.arange(camera.height_px, dtype=np.float32) / camera.width_px - 0.5 * tall)[:, None]
    if sky.cloud:
        angle = rng.uniform(0, 2 * np.pi)
        across = xx * np.cos(angle) + yy * np.sin(angle)
        edge = np.quantile(across[::16, ::16], 1.0 - sky.cloud)
        thick = 1.0 / (1.0 + np.exp(-(across - edge) * 40.0))
        ripple = 1.0 + 0.3 * np.sin(25.0 * xx + 3.0) * np.cos(21.0 * yy)
        extinction *= (10.0 ** (-0.4 * 4.0 * thick * ripple)).astype(np.float32)
        glow += 0.8 * thick * ripple
    scene = stamps(camera, ends, light, colour, rng)
    scene *= extinction
    angle = rng.uniform(0, 2 * np.pi)
    level = 1.0 + sky.gradient * (xx * np.cos(angle) + yy * np.sin(angle)) + glow
    if sky.moon_glow:
        level = level + sky.moon_glow * np.exp(-((xx - 0.6) ** 2 + (yy - 0.4) ** 2) / 0.25)
    scene += (per_pixel * level).astype(np.float32)
    for _ in range(sky.satellites):
        streak(scene, rng, 6.0 * np.sqrt(per_pixel + 20.0) + 0.1 * per_pixel)
    if sky.trees:
        trees(scene, rng, sky.trees, per_pixel)
    scene += rng.standard_normal(scene.shape, dtype=np.float32) * np.sqrt(
        np.maximum(scene, 0.0) + READ_NOISE**2
    )
    well = max(30.0 * per_pixel, 4000.0)
    sensor = np.random.default_rng(camera.seed)
    hot = sensor.integers(0, camera.width_px * camera.height_px, camera.hot_pixels)
    scene.ravel()[hot] += (sensor.random(camera.hot_pixels) ** 2 * well).astype(np.float32)
    scene = np.clip(scene / well, 0.0, 1.0)
    full = demosaiced(scene)
    picture = np.clip(255.0 * full**GAMMA, 0, 255).round().astype(np.uint8)
    buffer = io.BytesIO()
    Image.fromarray(picture).save(
        buffer, "JPEG", quality=exposure.quality, subsampling=2, exif=exif(camera, exposure)
    )
    return Photograph(buffer.getvalue(), attitude, camera, exposure, picture)


def exif(camera: Camera, exposure: Exposure):
    """What a camera writes: local time two hours east of UTC with its zone, exposure, focal
    length, and the focal length on 36 x 24 mm."""
    out = Image.Exif()
    start = exposure.middle - timedelta(seconds=exposure.seconds / 2.0) + timedelta(hours=2)
    block = out.get_ifd(0x8769)
    block[0x9003] = start.strftime("%Y:%m:%d %H:%M:%S")
    block[0x9291] = f"{start.microsecond // 1000:03d}"
    block[0x9011] = "+02:00"
    block[0x829A] = exposure.seconds
    block[0x920A] = camera.focal_mm
    diagonal = np.hypot(camera.width_px, camera.height_px) * camera.pixel_um / 1000.0
    block[0xA405] = max(1, round(camera.focal_mm * 43.267 / diagonal))
    return out


def electrons(camera: Camera, exposure: Exposure, v):
    """Photo-electrons of a star of this magnitude."""
    area = np.pi / 4.0 * (camera.focal_mm / camera.f_number / 1000.0) ** 2
    return PHOTONS * COUNTED * area * exposure.seconds * 10.0 ** (-0.4 * np.asarray(v))


def faintest(camera: Camera, exposure: Exposure, per_pixel: float) -> float:
    """Stars whose light is twice a pixel's own noise, or 20 electrons, don't matter."""
    least = max(20.0, 2.0 * np.sqrt(per_pixel + READ_NOISE**2))
    return float(2.5 * np.log10(electrons(camera, exposure, 0.0) / least))


def stamps(camera: Camera, ends, light, colour, rng):
    """The stars' light on the sensor through its colour filters, spread over their trails."""
    height, width = camera.height_px, camera.width_px
    middle = ends.mean(axis=0)
    trail = np.linalg.norm(ends[1] - ends[0], axis=1)
    inside = (
        np.isfinite(middle).all(axis=1) & (middle > -20).all(axis=1)
        & (middle[:, 0] < width + 20) & (middle[:, 1] < height + 20)
    )  # fmt: skip
    ends, light, colour, trail = ends[:, inside], light[inside], colour[inside], trail[inside]
    middle = middle[inside]
    pieces = int(np.clip(np.ceil(np.max(trail, initial=0.0) / 0.8), 1, 60))
    radius = int(np.ceil(4.0 * camera.spot_px + 1))
    step = np.arange(-radius, radius + 1)
    out = np.zeros(height * width, np.float64)
    corner = np.hypot(width, height) / 2.0
    outward = (middle - np.array(camera.middle_px)) / corner
    for chunk in (
        np.array_split(np.arange(len(light)), len(light) // 4000 + 1) if len(light) else []
    ):
        for k in range(pieces):
            part = (k + 0.5) / pieces
            at = ends[0, chunk] * (1 - part) + ends[1, chunk] * part
            for weight, shift, size in coma_parts(camera):
                place = at + shift * camera.spot_px * outward[chunk]
                x0, y0 = np.rint(place[:, 0]).astype(int), np.rint(place[:, 1]).astype(int)
                dx = x0[:, None] + step - place[:, :1]
                dy = y0[:, None] + step - place[:, 1:]
                s = camera.spot_px * size
                gx, gy = np.exp(-0.5 * (dx / s) ** 2), np.exp(-0.5 * (dy / s) ** 2)
                patch = gy[:, :, None] * gx[:, None, :]
                patch *= (weight * light[chunk] / pieces / (2 * np.pi * s * s))[:, None, None]
                column = np.broadcast_to(x0[:, None, None] + step[None, None, :], patch.shape)
                row = np.broadcast_to(y0[:, None, None] + step[None, :, None], patch.shape)
                # Red at even rows and columns, blue at odd ones, green elsewhere.
                channel = (row & 1) + (column & 1)
                patch = patch * np.take_along_axis(
                    colour[chunk], channel.reshape(len(chunk), -1), axis=1
                ).reshape(patch.shape)
                good = (row >= 0) & (row < height) & (column >= 0) & (column < width)
                np.add.at(out, (row * width + column)[good], patch[good])
    return out.reshape(height, width).astype(np.float32)


def coma_parts(camera: Camera):
    """Weights, shifts outward in spots at the corner, and sizes of what makes a star's image."""
    if not camera.coma:
        return [(1.0, 0.0, 1.0)]
    return [(0.75, 0.0, 1.0), (0.25, 4.0 * camera.coma, 1.4)]


def streak(scene, rng, light: float) -> None:
    """A satellite across the picture."""
    height, width = scene.shape
    a = rng.uniform([0, 0], [width, height])
    b = rng.uniform([0, 0], [width, height])
    count = int(np.hypot(*(b - a)) * 2) + 2
    points = a + (b - a) * np.linspace(0, 1, count)[:, None]
    for dx, dy in ((0, 0), (1, 0), (0, 1), (1, 1)):
        x = np.clip(points[:, 0].astype(int) + dx, 0, width - 1)
        y = np.clip(points[:, 1].astype(int) + dy, 0, height - 1)
        np.add.at(scene, (y, x), light / 4.0)


def trees(scene, rng, part: float, per_pixel: float) -> None:
    """Leaves along the lower edge, dark with bright spots between."""
    height, width = scene.shape
    x = np.arange(width)
    edge = height * (1 - part) + 0.03 * height * np.sin(x / width * 9.0) * np.cos(x / width * 31.0)
    inside = np.arange(height)[:, None] > edge[None, :]
    rough = rng.random((height // 4 + 1, width // 4 + 1), dtype=np.float32)
    rough = np.kron(rough, np.ones((4, 4), np.float32))[:height, :width]
    scene[inside] = (per_pixel * (0.15 + 1.6 * (rough > 0.85)))[inside]


def demosaiced(scene):
    """Red, green and blue (h, w, 3) from a mosaic, the neighbours' mean where one is missing."""
    height, width = scene.shape
    rows, columns = np.arange(height)[:, None], np.arange(width)[None, :]
    channel = (rows & 1) + (columns & 1)
    out = np.empty((height, width, 3), np.float32)
    for c in range(3):
        mask = (channel == c).astype(np.float32)
        out[..., c] = _neighbours_mean(scene * mask, mask)
    return out


def _neighbours_mean(values, mask):
    total, weight = _three(values), _three(mask)
    return np.where(mask > 0, values, total / weight)


def _three(a):
    p = np.pad(a, 1, mode="reflect")
    row = p[:, :-2] + 2 * p[:, 1:-1] + p[:, 2:]
    return row[:-2] + 2 * row[1:-1] + row[2:]


def run_of(site, camera, sky, direction, roll_deg, exposure, turns_deg, axis, every_s=40.0):
    """Photographs between which the camera was turned about `axis` by these angles."""
    first = attitude_towards(direction, roll_deg)
    out = []
    for k, angle in enumerate(turns_deg):
        attitude = first @ turn(axis, np.radians(angle)).T
        taken = replace(
            exposure, middle=exposure.middle + timedelta(seconds=every_s * k),
            seed=exposure.seed + k,
        )  # fmt: skip
        out.append(photograph(site, camera, sky, attitude, taken))
    return out
