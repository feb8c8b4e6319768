"""How far does a compass point from true north here, and how well is that known?

World Magnetic Model 2025 (NOAA NCEI and British Geological Survey) by the package `pygeomag`.
"""

from __future__ import annotations

import functools
import math
from datetime import UTC, datetime
from typing import Any, Literal

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass

Zone = Literal["usual", "caution", "blackout"]

FIRST_YEAR, LAST_YEAR = 2025.0, 2030.0
BLACKOUT_BELOW_NT = 2000.0
CAUTION_BELOW_NT = 6000.0
# How fast a model that is used outside its years goes astray: root mean square over the globe of
# the horizontal field's sideways error, 10-16 nT a year in the models of 2010, 2015 and 2020 held
# against their successors (benchmarks/magnetic_model_age.py), rounded up.
AGEING_NT_PER_YEAR = 20.0


@dataclass(frozen=True)
class MagneticField:
    """The Earth's field at one spot and date.

    `declination_deg` is positive where the needle points east of true north;
    `declination_sigma_deg` is one standard deviation of it, crust and disturbance included;
    `inclination_deg` positive downwards. `zone`: 'caution' and 'blackout' mark a horizontal field
    too weak for a compass. `year` is the decimal year, `years_outside` how far it lies outside the
    model's. A compass near steel or a car is wrong by more than any of this.
    """

    declination_deg: float
    declination_sigma_deg: float
    inclination_deg: float
    horizontal_nt: float
    total_nt: float
    zone: Zone
    year: float
    years_outside: float = 0.0

    @property
    def valid(self) -> bool:
        """Whether the year lies within the model's."""
        return self.years_outside == 0.0


def declination_sigma_deg(horizontal_nt: float, years_outside: float = 0.0) -> float:
    """One standard deviation of the model's declination where the horizontal field is this strong.

    sigma_D^2 = 0.26^2 + (5417 / H)^2 degrees, H in nT, never more than 104 (a direction drawn at
    random). Source: error model of WMM2025, A. Chulliat et al. 2025, The US/UK World Magnetic
    Model for 2025-2030, as coded in public libraries. Outside the model's years the second term
    grows by `AGEING_NT_PER_YEAR`, added in quadrature.
    """
    H = max(horizontal_nt, 1e-6)
    ageing = math.degrees(AGEING_NT_PER_YEAR * years_outside)
    return min(math.sqrt(0.26**2 + (5417.0**2 + ageing**2) / H**2), 180.0 / math.sqrt(3.0))


def zone_of(horizontal_nt: float) -> Zone:
    """'blackout' under 2000 nT, 'caution' under 6000 nT. Source: WMM reports, MIL-PRF-89500B."""
    if horizontal_nt < BLACKOUT_BELOW_NT:
        return "blackout"
    return "caution" if horizontal_nt < CAUTION_BELOW_NT else "usual"


def decimal_year(at: datetime) -> float:
    """The year with its passed part as a fraction, such as 2026.5."""
    if at.tzinfo is None:
        raise AxletreeError(f"time '{at.isoformat()}' has no zone: write it like ...+00:00")
    moment = at.astimezone(UTC)
    start = datetime(moment.year, 1, 1, tzinfo=UTC)
    length = (datetime(moment.year, 12, 31, tzinfo=UTC) - start).days + 1
    return moment.year + (moment - start).total_seconds() / (86400.0 * length)


def magnetic_field(
    latitude_deg: float, longitude_deg: float, elevation_m: float, at: datetime | float
) -> MagneticField:
    """The field at a spot, at an aware datetime or a decimal year.

    Height is taken above the ellipsoid; sea level differs from it by up to 100 m, which turns
    the needle by less than 0.001 degrees. Refuses latitudes beyond 90 and dates outside
    1900-2100; outside 2025.0-2030.0 it answers with a wider uncertainty, `valid` false.
    """
    if not abs(latitude_deg) <= 90.0:
        raise AxletreeError(f"latitude {latitude_deg}: it must lie between -90 and 90 degrees")
    year = at if isinstance(at, (int, float)) else decimal_year(at)
    if not 1900.0 <= year <= 2100.0:
        raise AxletreeError(
            f"year {year:.0f}: no magnetic model reaches that far; 2025 to 2030 is right"
        )
    # At a pole itself every direction is the same one and the model divides by zero.
    latitude = math.copysign(min(abs(latitude_deg), 89.9999), latitude_deg)
    result = _model().calculate(
        glat=latitude,
        glon=(longitude_deg + 180.0) % 360.0 - 180.0,
        alt=elevation_m / 1000.0,
        time=float(year),
        allow_date_outside_lifespan=True,
    )
    outside = max(FIRST_YEAR - year, year - LAST_YEAR, 0.0)
    horizontal = float(result.h)
    return MagneticField(
        declination_deg=float(result.d),
        declination_sigma_deg=declination_sigma_deg(horizontal, outside),
        inclination_deg=float(result.i),
        horizontal_nt=horizontal,
        total_nt=float(result.f),
        zone=zone_of(horizontal),
        year=float(year),
        years_outside=outside,
    )


def bearing_to_pole_deg(latitude_deg: float, declination_deg: float) -> float:
    """What a good compass shows, 0-360, when it looks towards the elevated pole."""
    true = 0.0 if latitude_deg >= 0.0 else 180.0
    return (true - declination_deg) % 360.0


@functools.cache
def _model() -> Any:
    from pygeomag import GeoMag

    return GeoMag(coefficients_file="wmm/WMM_2025.COF")
