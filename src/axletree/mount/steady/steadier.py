"""What makes a rig harder to push over, and by how much?

Each remedy is worked out on the person's own rig: the same masses and poses, with the tripod
changed or a load in its tray.
"""

from __future__ import annotations

import math
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Tripod
from axletree.mount.dimensions.propagate import known_sigmas
from axletree.mount.rig.parts import Rig
from axletree.mount.steady.tipping import LEANING_CHILD_N, Tipping, tipping, tray_for_push_kg

LOWER_MM = 150.0
WIDEST_LEG_DEG = 50.0  # from the vertical; flatter legs slide on hard ground (our figure)
HEAVIEST_TRAY_KG = 20.0  # more than this is no load for a tray (our figure)


class RemedyKind(Enum):
    """What can be changed: a load in the tray, the spread of the legs, or the top's height."""

    TRAY = "tray"
    WIDER = "wider"
    LOWER = "lower"
    SHORTER = "shorter"


@dataclass(frozen=True)
class Remedy:
    """One thing to change, and the push that then tips the rig.

    TRAY: `amount` kilograms more in the tray. WIDER: each foot `amount` millimetres
    further out, legs as long as they are, so the top comes down by `drop_mm`. LOWER: legs
    shorter until the top is `amount` mm lower, with the feet left on their circle. SHORTER:
    the same, but with the legs at the angle they have, so that the feet come in too.
    `enough`: it then takes the wanted push.
    """

    kind: RemedyKind
    amount: float
    push_n: float
    enough: bool
    drop_mm: float = 0.0


def _with_tripod(kit: Kit, **changes: float) -> Kit:
    tripod = kit.mount.tripod.model_copy(update=changes)
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})


def _spread(tripod: Tripod, foot_radius_mm: float) -> dict[str, float]:
    """The tripod's measures with its feet this far out and its legs as long as they are."""
    out = tripod.foot_radius_mm - tripod.top_radius_mm
    leg = float(np.hypot(out, tripod.top_height_mm))
    height = float(np.sqrt(leg**2 - (foot_radius_mm - tripod.top_radius_mm) ** 2))
    down = tripod.top_height_mm - height
    return {
        "foot_radius_mm": foot_radius_mm,
        "top_height_mm": height,
        "tray_height_mm": max(tripod.tray_height_mm - down, 50.0),
    }


def wider(kit: Kit, wanted_n: float = LEANING_CHILD_N) -> Remedy:
    """The least spread of the legs that takes `wanted_n`, or the widest that still stands."""
    tripod = kit.mount.tripod
    out = tripod.foot_radius_mm - tripod.top_radius_mm
    leg = float(np.hypot(out, tripod.top_height_mm))
    widest = tripod.top_radius_mm + leg * float(np.sin(np.radians(WIDEST_LEG_DEG)))
    low, high = tripod.foot_radius_mm, max(widest, tripod.foot_radius_mm)

    def push(radius: float) -> float:
        return tipping(_with_tripod(kit, **_spread(tripod, radius))).push_n

    if push(high) > wanted_n:
        while high - low > 1.0:
            middle = (low + high) / 2
            low, high = (middle, high) if push(middle) < wanted_n else (low, middle)
    got = push(high)
    drop = tripod.top_height_mm - _spread(tripod, high)["top_height_mm"]
    return Remedy(RemedyKind.WIDER, high - tripod.foot_radius_mm, got, got >= wanted_n, drop)


def lower(kit: Kit, by_mm: float = LOWER_MM, wanted_n: float = LEANING_CHILD_N) -> Remedy:
    """The top lower by shorter legs, the feet left on their circle."""
    tripod = kit.mount.tripod
    by = min(by_mm, tripod.top_height_mm / 2)
    push = tipping(
        _with_tripod(
            kit,
            top_height_mm=tripod.top_height_mm - by,
            tray_height_mm=max(tripod.tray_height_mm - by, 50.0),
        )
    ).push_n
    return Remedy(RemedyKind.LOWER, by, push, push >= wanted_n, by)


def shorter(kit: Kit, by_mm: float = LOWER_MM, wanted_n: float = LEANING_CHILD_N) -> Remedy:
    """The top lower by pushing the legs in at the angle they have: the feet come in as well."""
    tripod = kit.mount.tripod
    by = min(by_mm, tripod.top_height_mm / 2)
    share = 1.0 - by / tripod.top_height_mm
    out = (tripod.foot_radius_mm - tripod.top_radius_mm) * share
    push = tipping(
        _with_tripod(
            kit,
            top_height_mm=tripod.top_height_mm - by,
            foot_radius_mm=tripod.top_radius_mm + out,
            tray_height_mm=max(tripod.tray_height_mm - by, 50.0),
        )
    ).push_n
    return Remedy(RemedyKind.SHORTER, by, push, push >= wanted_n, by)


def remedies(kit: Kit, wanted_n: float = LEANING_CHILD_N, rig: Rig | None = None) -> list[Remedy]:
    """What helps until it takes `wanted_n` to push the rig over: tray, wider, lower, shorter.

    A rig that stands firmly enough already gives an empty list.
    """
    now = tipping(kit, rig=rig)
    if now.push_n >= wanted_n:
        return []
    more = tray_for_push_kg(kit, wanted_n, rig)
    possible = more <= HEAVIEST_TRAY_KG
    added = more if possible else HEAVIEST_TRAY_KG
    loaded = tipping(kit, tray_kg=now.tray_kg + added, rig=rig)
    return [
        Remedy(RemedyKind.TRAY, added, loaded.push_n, possible),
        wider(kit, wanted_n),
        lower(kit, wanted_n=wanted_n),
        shorter(kit, wanted_n=wanted_n),
    ]


_NAMES = (
    "mount.tripod.foot_radius_mm", "mount.tripod.top_height_mm", "mount.tripod.mass_kg",
    "mount.head.pivot_height_mm", "mount.head.crossing_along_mm", "mount.head.crossing_above_mm",
    "mount.head.saddle_distance_mm", "mount.head.fixed_mass_kg", "mount.head.moving_mass_kg",
    "tube.mass_kg", "tube.length_mm", "tube.diameter_mm", "tube.focuser_reach_mm",
    "tube.balance_from_front_mm",
)  # fmt: skip


def stand_sigma(kit: Kit, now: Tipping) -> tuple[float, float]:
    """One standard deviation of push (N) and margin (mm) from what the kit's dimensions are known
    to, read off or guessed."""

    def stands(kit: Kit) -> tuple[float, float]:
        again = tipping(kit, tray_kg=now.tray_kg)
        return again.push_n, again.margin_mm

    push, margin = known_sigmas(kit, _NAMES, stands)
    return float(push), float(margin)


def child_tips_chance(push_n: float, sigma_n: float) -> float:
    """How probable it is that a leaning child tips a rig that takes so large a push (N)."""
    if not math.isfinite(push_n) or sigma_n <= 0.0:
        return float(push_n < LEANING_CHILD_N)
    return 0.5 * math.erfc((push_n - LEANING_CHILD_N) / (sigma_n * math.sqrt(2.0)))
