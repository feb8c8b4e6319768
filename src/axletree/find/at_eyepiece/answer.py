"""What is told of a body at the eyepiece: figures with their errors, and codes."""

from __future__ import annotations

from datetime import datetime
from enum import Enum
from typing import TYPE_CHECKING

from axletree.kit.frozen import dataclass

if TYPE_CHECKING:
    from axletree.sky.discs.look import SkySide
    from axletree.sky.discs.rings import RingFace
    from axletree.sky.happenings.kinds import Happening
    from axletree.sky.lunar.light import LitFeature

# Errors of what `sky` reckons, one standard deviation: as `disc`, `saturn_rings`, `moon_places` and
# `moon_face` state them.
SIZE_ERROR = 0.001  # as a part of the size
ANGLE_ERROR_DEG = 0.05
OPENING_ERROR_DEG = 0.01
LIBRATION_ERROR_DEG = 0.001
MOON_PLACE_ERROR_ARCSEC = {"jupiter": 0.2, "saturn": 0.3}


class BesidePlanet(Enum):
    """Where a planet's moon is just now."""

    BESIDE = "beside"
    BEFORE_DISC = "before_disc"
    BEHIND_DISC = "behind_disc"
    IN_SHADOW = "in_shadow"

    @property
    def seen(self) -> bool:
        """Whether it shows at all."""
        return self in (BesidePlanet.BESIDE, BesidePlanet.BEFORE_DISC)


@dataclass(frozen=True)
class ShadowOnDisc:
    """A moon's shadow on its planet: its middle in equatorial radii along equator and axis."""

    west_radii: float
    north_radii: float
    squeeze: float


@dataclass(frozen=True)
class MoonBeside:
    """One moon of a planet.

    `position_angle_deg` and `apart_arcsec` from the middle of the planet's disc, from celestial
    north of date through east, both with `error_arcsec`; `west_radii`, `north_radii` the same in
    the planet's equatorial radii along its own equator and axis. `size_arcsec` its diameter.
    """

    name: str
    state: BesidePlanet
    position_angle_deg: float
    apart_arcsec: float
    error_arcsec: float
    west_radii: float
    north_radii: float
    size_arcsec: float
    magnitude_v: float
    shadow: ShadowOnDisc | None

    @property
    def apart_radii(self) -> float:
        """How far it stands from the middle of the disc, in the planet's equatorial radii."""
        return float((self.west_radii**2 + self.north_radii**2) ** 0.5)


@dataclass(frozen=True)
class RingsShown:
    """Saturn's rings: heights of the observer and of the Sun over their plane (north positive,
    degrees), the face seen, long diameters in arcseconds, how flat they look."""

    opening_deg: float
    sun_deg: float
    face: RingFace
    outer_arcsec: float
    inner_arcsec: float
    gap_arcsec: float
    short_over_long: float


@dataclass(frozen=True)
class PlanetAtEyepiece:
    """A planet at the moment `at`; sizes in arcseconds (0.1 %), angles in degrees (0.05).

    `bright_limb_deg` and `axis_deg` are position angles from celestial north through east.
    `happenings`: what its moons do now or begin before `until`.
    """

    body: str
    at: datetime
    until: datetime
    diameter_arcsec: float
    polar_diameter_arcsec: float
    phase_angle_deg: float
    lit_fraction: float
    bright_limb_deg: float
    axis_deg: float
    elongation_deg: float
    side: SkySide
    magnitude_v: float
    rings: RingsShown | None = None
    moons: tuple[MoonBeside, ...] = ()
    happenings: tuple[Happening, ...] = ()


@dataclass(frozen=True)
class EarthShadowOnMoon:
    """The Earth's shadow on the Moon: which part of its diameter is in the umbra (0 or less: none)
    and in the penumbra, by Danjon's rule (0.4 % of the umbra's radius); the position angle of the
    shadow's middle; in the Moon's radii how far off that is, and how large the umbra."""

    umbral_magnitude: float
    penumbral_magnitude: float
    toward_deg: float
    apart_radii: float
    umbra_radii: float


@dataclass(frozen=True)
class MoonAtEyepiece:
    """The Moon at the moment `at`: degrees; selenographic places east positive (0.001).

    `terminator_longitude_deg` where the edge of the light that shows meets the Moon's equator:
    sunrise while `waxing`, else sunset. `features`: those that stand best in the light. `shadow`:
    None while the Earth's does not touch it.
    """

    at: datetime
    diameter_arcsec: float
    phase_angle_deg: float
    lit_fraction: float
    waxing: bool
    bright_limb_deg: float
    axis_deg: float
    libration_longitude_deg: float
    libration_latitude_deg: float
    terminator_longitude_deg: float
    features: tuple[LitFeature, ...]
    shadow: EarthShadowOnMoon | None = None


@dataclass(frozen=True)
class PairAtEyepiece:
    """A double star: the fainter star seen from the brighter one, as of the year `year` (None:
    not known); `position_angle_deg` from north through east, None where nobody knows it."""

    at: datetime
    separation_arcsec: float
    position_angle_deg: float | None
    year: float | None
    magnitude_v: float | None
    companion_magnitude_v: float | None


AtEyepiece = PlanetAtEyepiece | MoonAtEyepiece | PairAtEyepiece
