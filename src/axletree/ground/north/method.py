"""What is one method of finding north, and how are several ranked?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

from axletree.ground.north.pointers import (
    ErrorCause,
    ErrorParts,
    NorthSearch,
    Pointer,
    total_deg,
)
from axletree.kit.frozen import dataclass
from axletree.sky.directions import wrap_180, wrap_360

USELESS_DEG = 10.0  # an expected error above this is no better than a guess


class NorthMethodKind(Enum):
    """By what north is found."""

    COMPASS = "compass"
    SUN_SHADOW = "sun shadow"
    SUN_ON_MERIDIAN = "sun on the meridian"
    MOON = "moon"
    MOON_ON_MERIDIAN = "moon on the meridian"
    STAR = "star"
    STAR_ON_MERIDIAN = "star on the meridian"
    LANDMARK = "landmark"
    POLE_STAR = "pole star"


PASSAGES = (
    NorthMethodKind.SUN_ON_MERIDIAN,
    NorthMethodKind.MOON_ON_MERIDIAN,
    NorthMethodKind.STAR_ON_MERIDIAN,
)


class RankReason(Enum):
    """Why a method ranks where it does; `Rank.figure` says how much, in the unit given here."""

    MODEL_AND_READING = "model_and_reading"  # degrees, the two together
    WEAK_FIELD = "weak_field"  # level field, nT
    BLACKOUT_ZONE = "blackout_zone"  # level field, nT
    POSITIONS = "positions"  # distance of the landmark, m
    NEAR_ZENITH = "near_zenith"  # degrees from the zenith
    TOO_STEEP = "too_steep"  # degrees from the zenith
    MIDNIGHT_SUN = "midnight_sun"  # altitude, degrees
    LARGEST_PART = "largest_part"  # the part's error, degrees; its cause is named


@dataclass(frozen=True)
class Rank:
    """A reason with its figure, and the cause of the error where one makes most of it."""

    reason: RankReason
    figure: float
    cause: ErrorCause | None = None


@dataclass(frozen=True)
class NorthMethod:
    """One method of finding the direction of the elevated pole.

    `at` is the moment that the figures belong to, `now` whether that is the asked one (what
    needs no moment counts as now); `until` when it ends, if known. `azimuth_deg` is the true
    azimuth of what is looked at (for the compass: of the pole), `line_deg` that of the line to
    mark: a `shadow`, or the sight itself. `turn_to_pole_deg` leads from that line to the
    direction of the pole, clockwise positive. `altitude_deg`, `rate_deg_per_min` of the body.
    `sigma_deg` is the expected error (one standard deviation), made up of `parts`. `usable` is
    false where it can't be trusted; `rank` says why it stands where it does. `needs_light`: done
    by daylight; then the cautions about the Sun apply. `object_name` is the star's name, or the
    landmark's where it was given one.
    """

    kind: NorthMethodKind
    at: datetime
    now: bool
    azimuth_deg: float
    line_deg: float
    turn_to_pole_deg: float
    sigma_deg: float
    parts: ErrorParts
    rank: Rank
    usable: bool = True
    shadow: bool = False
    needs_light: bool = False
    altitude_deg: float | None = None
    rate_deg_per_min: float | None = None
    until: datetime | None = None
    object_name: str | None = None

    @property
    def key(self) -> str:
        """A short code that tells it from the others, the same at another moment."""
        return (
            self.kind.value if self.object_name is None else f"{self.kind.value}:{self.object_name}"
        )


class ClosedReason(Enum):
    """Why a method is not open now."""

    BELOW_HORIZON = "below_horizon"
    BEHIND_SKYLINE = "behind_skyline"
    PASSES_BELOW_SKYLINE = "passes_below_skyline"
    NEAR_SUN = "near_sun"
    TOO_LIGHT = "too_light"
    SUN_STAYS_HIGH = "sun_stays_high"
    NONE_ABOVE_SKYLINE = "none_above_skyline"
    HIDDEN = "hidden"
    TOO_FAINT = "too_faint"


@dataclass(frozen=True)
class ClosedMethod:
    """A method that is not open now: why, and when it opens, if it does within a day.

    `altitude_deg` and `skyline_deg` tell how far a pole star is hidden, `magnitude` how faint it
    is; None elsewhere.
    """

    kind: NorthMethodKind
    reason: ClosedReason
    opens: datetime | None = None
    object_name: str | None = None
    altitude_deg: float | None = None
    skyline_deg: float | None = None
    magnitude: float | None = None


def method_by(
    kind: NorthMethodKind,
    seen: Pointer,
    search: NorthSearch,
    parts: ErrorParts,
    *,
    shadow: bool = False,
) -> NorthMethod:
    """A method that uses a body at a moment: directions, total error and rank filled in."""
    line = float(wrap_360(seen.azimuth_deg + (180.0 if shadow else 0.0)))
    sigma = total_deg(parts)
    return NorthMethod(
        kind=kind,
        at=seen.at,
        now=seen.at == search.at and kind not in PASSAGES,
        azimuth_deg=float(wrap_360(seen.azimuth_deg)),
        line_deg=line,
        turn_to_pole_deg=float(wrap_180(search.pole_azimuth_deg - line)),
        sigma_deg=sigma,
        parts=parts,
        rank=_rank(parts, sigma, seen.altitude_deg),
        usable=sigma <= USELESS_DEG,
        shadow=shadow,
        altitude_deg=seen.altitude_deg,
        rate_deg_per_min=seen.rate_deg_per_min,
    )


def _rank(parts: ErrorParts, sigma: float, altitude_deg: float) -> Rank:
    """Which cause makes most of the error."""
    if sigma > USELESS_DEG:
        return Rank(RankReason.TOO_STEEP, 90.0 - altitude_deg)
    cause, value = max(parts, key=lambda part: part[1])
    return Rank(RankReason.LARGEST_PART, value, cause)


def ranked(methods: list[NorthMethod]) -> tuple[NorthMethod, ...]:
    """Those that work now by expected error, then later ones, then those not to be trusted."""
    return tuple(sorted(methods, key=lambda m: (not m.usable, not m.now, m.sigma_deg)))
