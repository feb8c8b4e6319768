"""Where does an object stand, from here, at a moment?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer, observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.earth_rotation import RotationDoubt
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class WhereRequest:
    """One object at one aware moment; `observer` where it isn't the kit's site."""

    target: SkyObject
    at: datetime
    observer: Observer | None = None


class WhereCaution(Enum):
    """What can hurt who looks there."""

    SUN = "sun"


@dataclass(frozen=True)
class WhereAnswer:
    """The apparent place of date, hour angle (west positive), azimuth and altitude.

    `altitude_deg` is as seen through the air, `altitude_true_deg` without it; `airmass` is None
    below the horizon. `site_name` is empty for an observer who isn't at the kit's site.
    """

    target: SkyObject
    at: datetime
    observer: Observer
    site_name: str
    right_ascension_h: float
    declination_deg: float
    hour_angle_h: float
    azimuth_deg: float
    altitude_true_deg: float
    altitude_deg: float
    airmass: float | None
    cautions: tuple[WhereCaution, ...]
    doubts: tuple[RotationDoubt, ...]

    @property
    def up(self) -> bool:
        """Whether the object stands above the level horizon, as seen."""
        return self.altitude_deg > 0.0


def where(kit: Kit | None, request: WhereRequest) -> WhereAnswer:
    """Where the object stands, from the kit's site or the request's observer (kit may be None).

    Planets, Sun and Moon outside the years of the ephemeris are refused.
    """
    observer = request.observer
    if observer is None:
        if kit is None:
            raise AxletreeError("give a kit, or an observer")
        observer = observer_of(kit.site)
    instants = Instants.from_datetime(request.at)
    here = object_positions([request.target], instants, observer)
    altitude_deg = float(here.altitude_deg[0, 0])
    return WhereAnswer(
        target=request.target,
        at=request.at,
        observer=observer,
        site_name="" if kit is None or request.observer is not None else kit.site.name,
        right_ascension_h=float(here.right_ascension_h[0, 0]),
        declination_deg=float(here.declination_deg[0, 0]),
        hour_angle_h=float(here.hour_angle_h[0, 0]),
        azimuth_deg=float(here.azimuth_deg[0, 0]),
        altitude_true_deg=float(here.altitude_true_deg[0, 0]),
        altitude_deg=altitude_deg,
        airmass=float(here.airmass[0, 0]) if altitude_deg > 0.0 else None,
        cautions=(WhereCaution.SUN,) if request.target.kind == "sun" else (),
        doubts=instants.doubts,
    )
