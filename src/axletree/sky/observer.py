"""Where on the Earth does the person stand, and through how much air do they look?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass

if TYPE_CHECKING:
    from axletree.kit.parts.site import Site


def standard_pressure_hpa(elevation_m: float) -> float:
    """Air pressure of the standard atmosphere. Source: ISO 2533:1975, troposphere below 11 km."""
    return float(1013.25 * (1.0 - 2.25577e-5 * elevation_m) ** 5.25588)


def standard_temperature_c(elevation_m: float) -> float:
    """Air temperature of the standard atmosphere. Source: ISO 2533:1975, 6.5 K per km."""
    return 15.0 - 0.0065 * elevation_m


def _within(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:  # also catches nan
        raise AxletreeError(f"{name} is {value}: it must lie between {low} and {high} {unit}")


@dataclass(frozen=True)
class Observer:
    """A spot: geodetic latitude and longitude (east positive) on WGS-84, height above sea level.

    Pressure and temperature that are not given are those of the standard atmosphere at this
    elevation (`air_pressure_hpa`, `air_temperature_c`). `pressure_hpa=0` means no air at all.
    Latitudes beyond 90, longitudes outside -180..360 and impossible air are refused.
    """

    latitude_deg: float
    longitude_deg: float
    elevation_m: float = 0.0
    pressure_hpa: float | None = None
    temperature_c: float | None = None
    relative_humidity: float = 0.0
    wavelength_um: float = 0.55

    def __post_init__(self) -> None:
        _within("latitude_deg", self.latitude_deg, -90.0, 90.0, "degrees")
        _within("longitude_deg", self.longitude_deg, -180.0, 360.0, "degrees")
        _within("elevation_m", self.elevation_m, -500.0, 9000.0, "metres")
        if self.pressure_hpa is not None:
            _within("pressure_hpa", self.pressure_hpa, 0.0, 1100.0, "hPa")
        if self.temperature_c is not None:
            _within("temperature_c", self.temperature_c, -90.0, 60.0, "degrees Celsius")
        _within("relative_humidity", self.relative_humidity, 0.0, 1.0, "(a fraction)")
        _within("wavelength_um", self.wavelength_um, 0.3, 20.0, "micrometres")

    @property
    def air_pressure_hpa(self) -> float:
        """Pressure at the spot: as given, else the standard atmosphere's."""
        if self.pressure_hpa is not None:
            return self.pressure_hpa
        return standard_pressure_hpa(self.elevation_m)

    @property
    def air_temperature_c(self) -> float:
        """Temperature at the spot: as given, else the standard atmosphere's."""
        if self.temperature_c is not None:
            return self.temperature_c
        return standard_temperature_c(self.elevation_m)

    @property
    def latitude_rad(self) -> float:
        """Geodetic latitude in radians."""
        return math.radians(self.latitude_deg)

    @property
    def longitude_rad(self) -> float:
        """Longitude in radians, east positive."""
        return math.radians(self.longitude_deg)

    @property
    def north(self) -> bool:
        """True where the north pole is the elevated one; the equator counts as north."""
        return self.latitude_deg >= 0.0


def observer_of(site: Site) -> Observer:
    """The observer at a kit's site."""
    return Observer(
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
        pressure_hpa=site.pressure_hpa,
        temperature_c=site.temperature_c,
        relative_humidity=site.relative_humidity,
    )
