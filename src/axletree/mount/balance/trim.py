"""What is left over crosswise, and how well is the answer known?

A finder, a focuser or a camera beside the tube puts the centre of mass off the tube's axis. No
sliding along the saddle takes that away: the declination axis then holds still in one pose and
turns by itself in another, and the polar axis with it.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.masses import tube_axis_m
from axletree.mount.balance.positions import Balance, solve
from axletree.mount.dimensions.propagate import guess_sigmas
from axletree.sky.directions import wrap_180

TRIM_BAR_MM = 15.0  # the trim mass' own middle outside the tube wall (our figure)


@dataclass(frozen=True)
class Trim:
    """Two ways to take the crosswise moment away, either of them alone.

    `turn_deg` turns the tube in its rings, clockwise seen from behind, until the heavy side
    faces away from the saddle; `turn_under_deg` until it faces the saddle. Or a mass of
    `mass_kg` at `mass_angle_deg` around the tube wall (0 away from the saddle, 90 to the right
    seen from behind), `radius_mm` from the tube's axis, over the declination axis; all weights
    then go `weights_outward_mm` further out. None: there is nothing to trim, or no rings
    that turn.
    """

    turn_deg: float | None
    turn_under_deg: float | None
    mass_kg: float
    mass_angle_deg: float
    radius_mm: float
    weights_outward_mm: float | None


def trim(kit: Kit, balance: Balance, least_kg_m: float = 1e-6) -> Trim:
    """How to trim the crosswise moment of `balance`; below `least_kg_m` nothing is asked for."""
    right, out = balance.crosswise_kg_m, balance.across_from_saddle_kg_m
    radius = kit.tube.diameter_mm / 2 + TRIM_BAR_MM
    mass = abs(right) * 1000 / radius
    needed = abs(right) > least_kg_m
    heavy = float(np.degrees(np.arctan2(right, out)))
    # A catadioptric's dovetail is bolted to its two ends: there are no rings.
    may_turn = needed and not kit.tube.ring_turn_fixed and kit.tube.kind != "catadioptric"
    axis_mm = tube_axis_m(kit.tube, kit.mount.head) * 1000
    weights_kg = balance.loading.total_kg
    return Trim(
        turn_deg=float(wrap_180(-heavy)) if may_turn else None,
        turn_under_deg=float(wrap_180(180.0 - heavy)) if may_turn else None,
        mass_kg=mass if needed else 0.0,
        mass_angle_deg=270.0 if right > 0 else 90.0,
        radius_mm=radius,
        weights_outward_mm=mass * axis_mm / weights_kg if needed and weights_kg else None,
    )


@dataclass(frozen=True)
class Certainty:
    """One standard deviation of a first placement, from the kit's guessed values alone."""

    tube_sigma_mm: float
    weights_sigma_mm: float | None
    guessed: tuple[str, ...]


_NAMES = (
    "tube.mass_kg", "tube.balance_from_front_mm", "tube.diameter_mm", "tube.dovetail_height_mm",
    "tube.focuser_from_front_mm", "tube.focuser_reach_mm", "tube.diagonal_arm_mm",
    "tube.focuser_mass_kg", "tube.finder.mass_kg", "tube.finder.from_front_mm",
    "tube.finder.offset_mm", "mount.head.saddle_distance_mm", "mount.head.moving_mass_kg",
    "mount.head.shaft_mass_kg",
)  # fmt: skip


def certainty(kit: Kit, eyepiece: tuple[str, float], balance: Balance) -> Certainty:
    """How far the placements of `balance` may be off because values of the kit were guessed."""

    def placed(kit: Kit) -> tuple[float, float]:
        again = solve(kit, eyepiece)
        return again.over_saddle_mm + again.short_of_slide_mm, again.need_kg_m

    (tube_sigma, need_sigma), used = guess_sigmas(kit, _NAMES, placed)
    weights_kg = balance.loading.total_kg
    return Certainty(
        tube_sigma_mm=float(tube_sigma),
        weights_sigma_mm=float(need_sigma) * 1000 / weights_kg if weights_kg else None,
        guessed=used,
    )
