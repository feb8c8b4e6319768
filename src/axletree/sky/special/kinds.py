"""Which nights are special, and with which moments and figures?"""

from __future__ import annotations

from datetime import date, datetime
from enum import Enum

from axletree.kit.frozen import dataclass


class SpecialKind(Enum):
    """What makes a night special."""

    MOON_ECLIPSE_PENUMBRAL = "moon_eclipse_penumbral"
    MOON_ECLIPSE_PARTIAL = "moon_eclipse_partial"
    MOON_ECLIPSE_TOTAL = "moon_eclipse_total"
    SUN_ECLIPSE_PARTIAL = "sun_eclipse_partial"
    SUN_ECLIPSE_ANNULAR = "sun_eclipse_annular"
    SUN_ECLIPSE_TOTAL = "sun_eclipse_total"
    MEETING = "meeting"
    OCCULTATION = "occultation"
    OPPOSITION = "opposition"
    ELONGATION_EVENING = "elongation_evening"
    ELONGATION_MORNING = "elongation_morning"
    RINGS_EDGE_TO_EARTH = "rings_edge_to_earth"
    RINGS_EDGE_TO_SUN = "rings_edge_to_sun"
    METEORS = "meteors"
    THIN_MOON = "thin_moon"


MOON_ECLIPSES = frozenset(
    {
        SpecialKind.MOON_ECLIPSE_PENUMBRAL,
        SpecialKind.MOON_ECLIPSE_PARTIAL,
        SpecialKind.MOON_ECLIPSE_TOTAL,
    }
)
SUN_ECLIPSES = frozenset(
    {
        SpecialKind.SUN_ECLIPSE_PARTIAL,
        SpecialKind.SUN_ECLIPSE_ANNULAR,
        SpecialKind.SUN_ECLIPSE_TOTAL,
    }
)


class MomentKind(Enum):
    """Which moment, in the order of time within each kind of night."""

    PENUMBRA_BEGINS = "penumbra_begins"
    PARTIAL_BEGINS = "partial_begins"
    TOTAL_BEGINS = "total_begins"
    GREATEST = "greatest"
    TOTAL_ENDS = "total_ends"
    PARTIAL_ENDS = "partial_ends"
    PENUMBRA_ENDS = "penumbra_ends"
    DISAPPEARS = "disappears"
    REAPPEARS = "reappears"
    CLOSEST = "closest"
    EXACT = "exact"
    BEST = "best"


class FigureKind(Enum):
    """What a figure is; its unit stands in its name, magnitudes of eclipses are bare."""

    UMBRAL_MAGNITUDE = "umbral_magnitude"  # the part of the Moon's diameter in the umbra
    PENUMBRAL_MAGNITUDE = "penumbral_magnitude"
    SUN_MAGNITUDE = "sun_magnitude"  # the part of the Sun's diameter behind the Moon
    SUN_COVERED = "sun_covered"  # the part of its disc
    SEPARATION_DEG = "separation_deg"
    FIELD_DEG = "field_deg"
    DEPTH_ARCSEC = "depth_arcsec"  # how far behind the mean limb the star passes, at most
    MAGNITUDE_V = "magnitude_v"
    DIAMETER_ARCSEC = "diameter_arcsec"
    ELONGATION_DEG = "elongation_deg"
    MOON_LIT_FRACTION = "moon_lit_fraction"
    MOON_AGE_H = "moon_age_h"
    CRESCENT_ARCMIN = "crescent_arcmin"  # its greatest width
    CRESCENT_Q = "crescent_q"
    METEORS_PER_HOUR = "meteors_per_hour"
    ZENITH_RATE_PER_HOUR = "zenith_rate_per_hour"
    RADIANT_DEG = "radiant_deg"  # its height
    LIMIT_MAG = "limit_mag"  # the faintest star of that hour


class Limb(Enum):
    """At which limb of the Moon something goes or comes."""

    DARK = "dark"
    BRIGHT = "bright"


@dataclass(frozen=True)
class NamedMoment:
    """A moment (aware), its error (s, one standard deviation) and where the thing stands then.

    Apparent altitude and azimuth of what the night is about (degrees). `seen`: it is above the
    horizon, and the sky is dark enough for it (of an eclipse of the Sun: the Sun is up).
    """

    kind: MomentKind
    time: datetime
    doubt_s: float
    altitude_deg: float
    azimuth_deg: float
    seen: bool
    limb: Limb | None = None


@dataclass(frozen=True)
class Figure:
    """A figure and its error, one standard deviation."""

    kind: FigureKind
    value: float
    error: float


@dataclass(frozen=True)
class SpecialNight:
    """Something special, in the night from noon to noon that is named by its evening's date, `day`.

    An eclipse of the Sun belongs to the day itself. `bodies` are names: "moon", a planet,
    a star's or a cluster's, a meteor shower's; what moves stands first. `moments` in the order of
    time, `greatest` the one by which it is known. `nights`: evenings on which a meeting lasts.
    `grazing`: an edge that hardly meets the other; its contacts are poor.
    """

    kind: SpecialKind
    day: date
    bodies: tuple[str, ...]
    greatest: NamedMoment
    moments: tuple[NamedMoment, ...]
    figures: tuple[Figure, ...]
    nights: tuple[date, ...] = ()
    grazing: bool = False

    @property
    def of_the_sun(self) -> bool:
        """True where whoever looks looks at the Sun: the full caution belongs to it."""
        return self.kind in SUN_ECLIPSES

    def figure(self, kind: FigureKind) -> Figure | None:
        """The figure of this kind, if it has one."""
        return next((f for f in self.figures if f.kind is kind), None)

    def moment(self, kind: MomentKind) -> NamedMoment | None:
        """The moment of this kind, if it has one."""
        return next((m for m in self.moments if m.kind is kind), None)
