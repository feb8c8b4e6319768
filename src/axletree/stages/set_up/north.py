"""Which way is true north (south)? A moment in, every method that leads to the pole out."""

from __future__ import annotations

from dataclasses import field, replace
from datetime import datetime
from enum import Enum
from pathlib import Path
from zoneinfo import ZoneInfo

from axletree.ground.magnetism import MagneticField, bearing_to_pole_deg, magnetic_field
from axletree.ground.north.landmark import Landmark, direction_to
from axletree.ground.north.method import ClosedMethod, NorthMethod, NorthMethodKind, ranked
from axletree.ground.north.methods import (
    compass_method,
    landmark_method,
    near_enough_deg,
    sky_methods,
)
from axletree.ground.north.pointers import NorthSearch, ObservingErrors
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of
from axletree.sky.positions.ephemeris import BeyondEphemerisError, DaysAsked

NEAREST_TO_POLE_DEG = 89.99
# Higher than this the Sun, or its glare, is in the way of whoever looks about (ours).
SUN_CAUTION_ABOVE_DEG = -1.0


@dataclass(frozen=True)
class NorthRequest:
    """The moment (aware), something in sight if there is any, how well things are done.

    `kit_folder` is where the kit's skyline file lies, None where it has no folder.
    """

    at: datetime
    landmark: Landmark | None = None
    errors: ObservingErrors = field(default_factory=ObservingErrors)
    kit_folder: Path | None = None


class NorthCaution(Enum):
    """What can hurt, or lead astray."""

    SUN = "sun"
    STEEL = "steel"


@dataclass(frozen=True)
class NorthAnswer:
    """Everything about the direction of the elevated pole at one spot and moment.

    `pole_azimuth_deg` is 0 or 180. `methods` ranked: those that work now by expected error, then
    those later in the next day, then those not to be trusted. `closed`: what isn't open, why,
    and until when. `sun_altitude_deg` is None where the date lies outside the ephemeris; then
    `sky_unknown` says so, and only compass and landmark are left. `near_enough_deg`:
    within this of the pole's direction the pole lies in the field of the polar scope or hollow
    axis (None: there is neither, or its field isn't known). `horizon` tells which skyline was
    taken, `errors` how well things are done.
    """

    at: datetime
    north: bool
    pole_azimuth_deg: float
    field: MagneticField
    compass_bearing_deg: float
    compass_sigma_deg: float
    methods: tuple[NorthMethod, ...]
    closed: tuple[ClosedMethod, ...]
    sun_altitude_deg: float | None
    near_enough_deg: float | None
    cautions: tuple[NorthCaution, ...]
    errors: ObservingErrors
    horizon: Horizon
    sky_unknown: DaysAsked | None
    site_name: str
    zone: ZoneInfo

    @property
    def usable(self) -> tuple[NorthMethod, ...]:
        """The methods that can be trusted, best first, those that work now before later ones."""
        return tuple(method for method in self.methods if method.usable)

    @property
    def near_enough(self) -> tuple[NorthMethod, ...]:
        """The usable methods of which two standard deviations lie within `near_enough_deg`."""
        if self.near_enough_deg is None:
            return ()
        return tuple(m for m in self.usable if 2.0 * m.sigma_deg <= self.near_enough_deg)


def north(kit: Kit, request: NorthRequest) -> NorthAnswer:
    """Every method of finding the pole's direction from the kit's site at a moment, ranked.

    Refuses a spot within 0.01 degrees of a pole, and a landmark that `direction_to` refuses.
    """
    site, at, errors = kit.site, request.at, request.errors
    observer = observer_of(site)
    if abs(observer.latitude_deg) > NEAREST_TO_POLE_DEG:
        raise AxletreeError(
            "at a pole the axis points straight up and every direction is the same one; "
            "level the tripod and set the axis upright"
        )
    mark = request.landmark
    if mark is not None and mark.sigma_m is not None:
        errors = replace(errors, mark_m=mark.sigma_m)
    horizon = site_horizon(site, request.kit_folder, at)
    search = NorthSearch(observer, at, horizon, errors)
    magnetic = magnetic_field(
        observer.latitude_deg, observer.longitude_deg, observer.elevation_m, at
    )
    compass = compass_method(magnetic, search)
    methods = [compass]
    if mark is not None:
        bearing = direction_to(
            observer.latitude_deg,
            observer.longitude_deg,
            mark.latitude_deg,
            mark.longitude_deg,
            site_sigma_m=errors.site_m,
            mark_sigma_m=errors.mark_m,
            rise_m=None if mark.elevation_m is None else mark.elevation_m - site.elevation_m,
        )
        methods.append(landmark_method(bearing, mark.name, search))
    closed: list[ClosedMethod] = []
    sun: float | None = None
    unknown: DaysAsked | None = None
    scope = kit.mount.polar_scope
    try:
        sun = search.sun_altitude_deg
        found, closed = sky_methods(search, scope, site.naked_eye_limit_mag)
        methods += found
    except BeyondEphemerisError as error:
        unknown = error.days
    return NorthAnswer(
        at=at,
        north=observer.north,
        pole_azimuth_deg=search.pole_azimuth_deg,
        field=magnetic,
        compass_bearing_deg=bearing_to_pole_deg(observer.latitude_deg, magnetic.declination_deg),
        compass_sigma_deg=compass.sigma_deg,
        methods=ranked(methods),
        closed=tuple(closed),
        sun_altitude_deg=sun,
        near_enough_deg=near_enough_deg(scope),
        cautions=_cautions(methods, sun),
        errors=errors,
        horizon=horizon,
        sky_unknown=unknown,
        site_name=site.name,
        zone=site.zone,
    )


def _cautions(
    methods: list[NorthMethod], sun_altitude_deg: float | None
) -> tuple[NorthCaution, ...]:
    """The Sun wherever a method works by daylight, steel for compasses."""
    cautions = []
    day = sun_altitude_deg is None or sun_altitude_deg > SUN_CAUTION_ABOVE_DEG
    if day or any(method.needs_light for method in methods):
        cautions.append(NorthCaution.SUN)
    if any(m.kind is NorthMethodKind.COMPASS and m.usable for m in methods):
        cautions.append(NorthCaution.STEEL)
    return tuple(cautions)
