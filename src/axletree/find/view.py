"""What does the eye meet in each instrument: which stars, how turned, and where does it drift?

An eyepiece's picture follows pose and mirrors (`axletree.mount.rig.field_orientation`). A finder
rides parallel to the tube and is looked through from behind it: one that turns things upside down
does so by half a circle, a mirrored one has its diagonal turned up, so that only left and right
are exchanged. The bare eye and a plain sight have the zenith up. Heads are held upright.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.find.at_eyepiece.answer import AtEyepiece
from axletree.find.instruments import Instrument, InstrumentKind, Look
from axletree.find.patch import Patch
from axletree.find.shown_object import ShownObject
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.tube import Tube
from axletree.mount.rig.field_orientation import clockwise_deg, picture, sky_ways, upright_head
from axletree.mount.rig.kinematics import Axes, direction, placed
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats, Indices, Ints
from axletree.sky.catalogue.star_counts import times_as_many
from axletree.sky.directions import angle_between_deg, vector_from_azimuth_altitude, wrap_360

# What an eye tells apart behind the eyepiece (common practice, no source).
EYE_SPLITS_ARCSEC = 120.0
# The pose must look at the middle of the patch: nearer than what no axis without faults misses.
_ASIDE_DEG = 0.5


@dataclass(frozen=True)
class PosedRig:
    """A rig with its two axes turned: where the eye is, and how the tube lies."""

    rig: Rig
    tube: Tube
    axes: Axes
    tube_end_h: float
    swing_deg: float


@dataclass(frozen=True)
class SkyTurn:
    """How the sky lies in a view: angles clockwise from the top, 0-360, the head upright.

    `drift_deg` is the way that everything drifts with nothing turning, `zenith_deg` where the
    sky's own 'up' has gone.
    """

    north_deg: float
    drift_deg: float
    zenith_deg: float
    mirrored: bool

    def matrix(self) -> Floats:
        """(2, 2): from a step (east, north) on the sky to (right, up) at the eye."""
        north, east = np.radians(self.north_deg), np.radians(self.drift_deg + 180.0)
        return np.array([[np.sin(east), np.sin(north)], [np.cos(east), np.cos(north)]])


@dataclass(frozen=True)
class OutlineSeen:
    """An outline in a view: middle and half axes in field radii, x to the right, y up;
    `major_deg` 0-180 is the long axis, clockwise from the top, None for a circle. `lie_known` is
    False where nobody knows how it lies, and a circle stands for an ellipse."""

    x: float
    y: float
    semi_major: float
    semi_minor: float
    major_deg: float | None
    lie_known: bool = True


@dataclass(frozen=True)
class FieldView:
    """What one instrument shows of a patch; places in units of the field's radius.

    `x` (to the right) and `y` (up), `magnitude_v`, `star_index` (rows of the patch's stars) and
    `star_number` (HIP, or another list's) are arrays (n,), bright to faint. `limit_mag` is the
    faintest star that shows there, V outside the air; where the list ends before it, at
    `list_limit_mag`, `times_as_many` says how many stars show for one that stands here (1 where
    none is lacking). `place` is the object's (x, y), None without one or where it lies outside;
    `companion_deg` the way to a pair's fainter star, clockwise from the top, `companion_apart` how
    far, in field radii, both None where the instrument doesn't show them apart. `body`: what Moon,
    planet or pair show at that moment.
    """

    instrument: Instrument
    radius_deg: float
    turned: SkyTurn
    x: Floats
    y: Floats
    magnitude_v: Floats
    star_index: Indices
    star_number: Ints
    limit_mag: float
    list_limit_mag: float
    times_as_many: float
    place: tuple[float, float] | None = None
    outline: OutlineSeen | None = None
    companion_deg: float | None = None
    companion_apart: float | None = None
    body: AtEyepiece | None = None


def seen_angle_deg(position_angle_deg: ArrayLike, north_deg: ArrayLike, mirrored: bool) -> Floats:
    """Angle in the view, 0-360 clockwise from the top, of a position angle on the sky.

    `position_angle_deg` from north through east; `north_deg`: where north lies in the view,
    clockwise from the top for a head held upright. On the sky east lies anticlockwise from
    north; a mirror turns that round.
    """
    sense = 1.0 if mirrored else -1.0
    return wrap_360(np.asarray(north_deg) + sense * np.asarray(position_angle_deg))


def clock_h(position_angle_deg: ArrayLike, north_deg: ArrayLike, mirrored: bool) -> Floats:
    """The same on a clock face, above 0 to 12 hours: 12 is up, 3 right."""
    hours = seen_angle_deg(position_angle_deg, north_deg, mirrored) / 30.0
    return np.asarray(np.where(hours == 0.0, 12.0, hours))


def field_view(
    patch: Patch,
    instrument: Instrument,
    turned: SkyTurn,
    limit_mag: float,
    shown: ShownObject | None = None,
) -> FieldView:
    """The stars and the object in the instrument's field about the patch's middle.

    `turned` comes from `turned_in` for the same middle, `limit_mag` from `instruments.limit_mag`.
    The eyepiece's own distortion towards the edge is left out.
    """
    radius_deg = instrument.true_field_deg / 2.0
    plane_deg = float(np.degrees(np.tan(np.radians(radius_deg))))
    M = turned.matrix() / plane_deg
    splits_deg = EYE_SPLITS_ARCSEC / instrument.magnification / 3600.0
    x, y = M @ np.stack((patch.east_deg, patch.north_deg))
    seen = np.flatnonzero((np.hypot(x, y) <= 1.0) & (patch.stars.magnitude_v <= limit_mag))
    place, outline, pair = _object(M, shown)
    if pair is not None and pair[1] * plane_deg < splits_deg:
        pair = None
    return FieldView(
        instrument=instrument,
        radius_deg=radius_deg,
        turned=turned,
        x=x[seen],
        y=y[seen],
        magnitude_v=patch.stars.magnitude_v[seen],
        star_index=seen,
        star_number=patch.stars.number[seen],
        limit_mag=limit_mag,
        list_limit_mag=patch.limit_mag,
        times_as_many=times_as_many(limit_mag, patch.limit_mag),
        place=place,
        outline=outline,
        companion_deg=None if pair is None else pair[0],
        companion_apart=None if pair is None else pair[1],
    )


def turned_in(
    instrument: Instrument, patch: Patch, latitude_deg: float, posed: PosedRig | None = None
) -> SkyTurn:
    """How the sky about the patch's middle lies in the instrument.

    `posed` looks there. Refuses an eyepiece or a finder without it, and one that looks elsewhere.
    """
    if not instrument.has_power:
        return _upright(patch, latitude_deg)
    if posed is None:
        raise AxletreeError("how a view is turned follows from the pose, and none was given")
    T = direction(posed.axes, posed.tube_end_h, posed.swing_deg)
    middle = vector_from_azimuth_altitude(patch.azimuth_deg, patch.altitude_deg)
    aside = float(angle_between_deg(T, middle))
    if not aside <= _ASIDE_DEG:
        raise AxletreeError(f"the tube looks {aside:.1f}° beside the middle of the stars to show")
    if instrument.kind is InstrumentKind.EYEPIECE:
        view = picture(posed.rig, posed.tube, posed.axes, posed.tube_end_h, posed.swing_deg)
        north, drift, zenith = view.north_deg, view.drift_deg, view.zenith_deg
        return SkyTurn(float(north), float(drift), float(zenith), view.mirrored)
    return _in_finder(instrument.look, middle, latitude_deg, _behind(posed, "finder"))


def _behind(posed: PosedRig, part: str) -> Floats:
    """Where the eye is that looks through a tube riding on the tube: at the end away from the
    sky, or behind the tube where the rig has no such part."""
    name = part if part in posed.rig.names else "tube"
    _, ends = placed(posed.rig, posed.axes, posed.tube_end_h, posed.swing_deg)
    return np.asarray(ends[posed.rig.index(name)])


def _upright(patch: Patch, latitude_deg: float) -> SkyTurn:
    az, alt = np.radians(patch.azimuth_deg), np.radians(patch.altitude_deg)
    right = np.array([np.cos(az), -np.sin(az), 0.0])
    top = np.array([-np.sin(az) * np.sin(alt), -np.cos(az) * np.sin(alt), np.cos(alt)])
    middle = vector_from_azimuth_altitude(patch.azimuth_deg, patch.altitude_deg)
    north, drift, _ = sky_ways(middle, latitude_deg)
    return SkyTurn(
        float(clockwise_deg(north, right, top)), float(clockwise_deg(drift, right, top)), 0.0, False
    )


def _in_finder(look: Look | None, middle: Floats, latitude_deg: float, eye: Floats) -> SkyTurn:
    right, top = upright_head(middle, eye)
    if look is Look.UPSIDE_DOWN:
        right, top = -right, -top
    elif look is Look.MIRRORED:
        right = -right
    north, drift, zenith = (
        float(clockwise_deg(way, right, top)) for way in sky_ways(middle, latitude_deg)
    )
    return SkyTurn(north, drift, zenith, look is Look.MIRRORED)


def _object(
    M: Floats, shown: ShownObject | None
) -> tuple[tuple[float, float] | None, OutlineSeen | None, tuple[float, float] | None]:
    """Place, outline and a pair's companion (angle, distance) in the view."""
    if shown is None:
        return None, None, None
    x, y = (float(v) for v in M @ np.array([shown.east_deg, shown.north_deg]))
    outline = pair = None
    if shown.outline_deg is not None:
        axes, sizes, _ = np.linalg.svd(M @ shown.outline_deg)
        long, short = (float(s) for s in sizes)
        lies = float(np.degrees(np.arctan2(axes[0, 0], axes[1, 0]))) % 180.0
        known = shown.turn_known and long > 1.02 * short
        outline = OutlineSeen(x, y, long, short, lies if known else None, shown.turn_known)
    if shown.companion_deg is not None:
        dx, dy = (float(v) for v in M @ shown.companion_deg)
        pair = float(np.degrees(np.arctan2(dx, dy))) % 360.0, float(np.hypot(dx, dy))
    inside = np.hypot(x, y) <= 1.0
    return ((x, y) if inside else None), outline, pair
