"""What is one way of finding north, and how are several ranked?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from axletree.ground.north.pointers import Pointer, total_deg
from axletree.sky.directions import wrap_180, wrap_360

Kind = Literal[
    "compass",
    "sun shadow",
    "sun on the meridian",
    "moon",
    "moon on the meridian",
    "star",
    "star on the meridian",
    "landmark",
    "pole star",
]

USELESS_DEG = 10.0  # an expected error above this is no better than a guess


@dataclass(frozen=True)
class Way:
    """One way of finding the direction of the elevated pole.

    `at` is the moment that the figures belong to, `now` whether that is the asked one (what
    needs no moment counts as now); `until` when it ends, if known. `azimuth_deg` is the true
    azimuth of what is looked at (for the compass: of the pole), `line_deg` that of the line to
    mark: the shadow, or the sight itself. `turn_to_pole_deg` leads from that line to the
    direction of the pole, clockwise positive. `altitude_deg`, `rate_deg_per_min` of the body.
    `sigma_deg` is the expected error (one standard deviation), made up of `parts`. `usable` is
    false where it can't be trusted; `reason` says in a few words why it ranks where it does.
    `needs_light`: done by daylight; then the cautions about the Sun apply.
    """

    kind: Kind
    name: str
    at: datetime
    now: bool
    azimuth_deg: float
    line_deg: float
    turn_to_pole_deg: float
    sigma_deg: float
    parts: tuple[tuple[str, float], ...]
    reason: str
    usable: bool = True
    needs_light: bool = False
    altitude_deg: float | None = None
    rate_deg_per_min: float | None = None
    until: datetime | None = None


@dataclass(frozen=True)
class Closed:
    """A way that is not open now: what, why, and when it opens, if it does within a day."""

    name: str
    reason: str
    opens: datetime | None = None


def way(
    kind: Kind,
    name: str,
    seen: Pointer,
    pole_azimuth_deg: float,
    parts: tuple[tuple[str, float], ...],
    *,
    now: bool,
    shadow: bool = False,
    needs_light: bool = False,
    until: datetime | None = None,
    usable: bool = True,
    reason: str | None = None,
) -> Way:
    """A way that uses a body at a moment: directions, total error and reason filled in."""
    line = float(wrap_360(seen.azimuth_deg + (180.0 if shadow else 0.0)))
    sigma = total_deg(parts)
    fit = usable and sigma <= USELESS_DEG
    return Way(
        kind=kind,
        name=name,
        at=seen.at,
        now=now,
        azimuth_deg=float(wrap_360(seen.azimuth_deg)),
        line_deg=line,
        turn_to_pole_deg=float(wrap_180(pole_azimuth_deg - line)),
        sigma_deg=sigma,
        parts=parts,
        reason=reason or reason_of(parts, sigma, seen.altitude_deg),
        usable=fit,
        needs_light=needs_light,
        altitude_deg=seen.altitude_deg,
        rate_deg_per_min=seen.rate_deg_per_min,
        until=until,
    )


def reason_of(parts: tuple[tuple[str, float], ...], sigma: float, altitude_deg: float) -> str:
    """Which cause makes most of the error, in words."""
    cause, value = max(parts, key=lambda part: part[1])
    if sigma > USELESS_DEG:
        return f"{90 - altitude_deg:.1f}° from the zenith: too steep to point anywhere"
    return f"most of it: {cause}, {value:.2f}°"


def ranked(ways: list[Way]) -> tuple[Way, ...]:
    """Those that work now by expected error, then later ones, then those not to be trusted."""
    return tuple(sorted(ways, key=lambda w: (not w.usable, not w.now, w.sigma_deg)))
