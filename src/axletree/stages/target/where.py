"""Where does an object stand, from here, at a moment?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer, observer_of
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR
from axletree.sky.positions.objects import object_positions
from axletree.sky.sun_rule import SunRefusal, SunRule
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
    NEAR_THE_SUN = "near_the_sun"


@dataclass(frozen=True)
class WhereAnswer:
    """The apparent place of date, hour angle (west positive), azimuth and altitude.

    `altitude_deg` is as seen through the air, `altitude_true_deg` without it; `airmass` is None
    below the horizon. `site_name` is empty for an observer who isn't at the kit's site.

    A place is told as an almanac tells it, near the Sun as well, for who keeps away from the Sun
    must know where it stands; `refusal` says that nothing may be pointed there now.
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
    refusal: SunRefusal | None
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
    refusal = _refusal(kit, request.target, observer, instants)
    cautions = (WhereCaution.NEAR_THE_SUN,) if refusal is not None else ()
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
        refusal=refusal,
        cautions=(WhereCaution.SUN,) if request.target.kind == "sun" else cautions,
        doubts=instants.doubts,
    )


def _refusal(
    kit: Kit | None, target: SkyObject, observer: Observer, instants: Instants
) -> SunRefusal | None:
    """Why nothing may be pointed there; of years whose Sun nobody reckons here, nothing."""
    year = float(instants.julian_year[0])
    if not FIRST_YEAR <= year < LAST_YEAR + 1:
        return None
    rule = SunRule(observer) if kit is None else SunRule.of(kit, observer)
    return rule.refusals([target], instants, 0.0)[0]
