"""Where do tube and weights go so that neither axis turns by itself?

The frames are those of `masses`. A rigid load turns an axis unless its centre of mass lies on
that axis; the worst torque over all poses is g times the moment square to the axis, times the
sine of the axis' angle from the vertical (statics of a rigid body; J. L. Meriam and
L. G. Kraige, Engineering Mechanics: Statics, chapters 2 and 5).
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.masses import (
    Masses,
    head_masses,
    tube_axis_m,
    tube_masses,
    weight_masses,
)
from axletree.mount.balance.weights import Loading, loadings
from axletree.sky.arrays import Floats

STANDARD_GRAVITY_M_S2 = 9.80665  # CGPM 1901
# So little that the dovetail is short isn't felt (our figure).
SLIDE_REACHES_MM = 0.5


class Slide(Enum):
    """A way to slide the tube on its saddle."""

    FORWARD = "forward"
    BACK = "back"


@dataclass(frozen=True)
class Load:
    """What hangs on the saddle against what the mount is rated for, weights not counted."""

    carried_kg: float
    limit_kg: float

    @property
    def fraction(self) -> float:
        """Carried over rated."""
        return self.carried_kg / self.limit_kg


@dataclass(frozen=True)
class Balance:
    """Where everything goes with one eyepiece (or camera) in.

    `over_saddle_mm` is the place of the tube, from its front, that must lie over the
    declination axis; `slide_forward_mm` how far the tube has to move towards the sky from where
    it is, or from its bare balance point when that isn't known. `short_of_slide_mm` is what the
    dovetail can't give (0: enough). `crosswise_kg_m` is the moment to the right of the tube's
    axis, seen from behind, that no sliding can take away; `across_from_saddle_kg_m` the one away
    from the saddle. Torques are the worst over all poses after the work is done.
    `bare_balance_mm` is the bare tube's own balance point, from its front.
    """

    eyepiece: str
    over_saddle_mm: float
    bare_balance_mm: float
    slide_forward_mm: float
    short_of_slide_mm: float
    need_kg_m: float
    loadings: tuple[Loading, ...]
    tube: Masses
    head: Masses
    crosswise_kg_m: float
    across_from_saddle_kg_m: float
    hour_torque_nm: float
    declination_torque_nm: float
    load: Load

    @property
    def loading(self) -> Loading:
        """The chosen weights."""
        return self.loadings[0]

    @property
    def behind_bare_mm(self) -> float:
        """How far behind the bare tube's balance point (to its back) the saddle takes it."""
        return self.over_saddle_mm - self.bare_balance_mm

    @property
    def stuck_slide(self) -> Slide | None:
        """The way in which the dovetail is too short to slide the tube; None where it reaches."""
        if abs(self.short_of_slide_mm) <= SLIDE_REACHES_MM:
            return None
        return Slide.BACK if self.short_of_slide_mm < 0 else Slide.FORWARD

    @property
    def crosswise_torque_nm(self) -> float:
        """The crosswise moment as a torque at its worst, a plain size."""
        return abs(self.crosswise_kg_m) * STANDARD_GRAVITY_M_S2

    @property
    def off_axis_mm(self) -> float:
        """How far the centre of mass lies beside the tube's axis, a plain size."""
        return abs(self.crosswise_kg_m) * 1000 / self.tube.total_kg

    @property
    def masses_on_hour_axis(self) -> Masses:
        """Head, shaft and weights, in the hour frame."""
        weights = weight_masses(
            np.asarray(self.loading.mass_kg), np.asarray(self.loading.position_mm)
        )
        return self.head + weights


def declination_torque_nm(tube: Masses) -> float:
    """Worst torque about the declination axis: g times the moment square to it, shaft level."""
    r, t, _ = tube.moment_kg_m
    return float(STANDARD_GRAVITY_M_S2 * np.hypot(r, t))


def hour_torque_nm(hour: Masses, tube: Masses, axis_altitude_deg: float) -> float:
    """Worst torque about the polar axis over all turns of both axes.

    The tube's own moment (r, t) turns with the declination and stands across the shaft at its
    worst; a polar axis near the vertical (high latitude) feels less.
    """
    r, t, a = tube.moment_kg_m
    _, b0, a0 = hour.moment_kg_m
    across = abs(b0) + np.hypot(r, t)
    square = np.cos(np.radians(axis_altitude_deg))
    return float(STANDARD_GRAVITY_M_S2 * abs(square) * np.hypot(a0 + a, across))


def torques_nm(
    hour: Masses, tube: Masses, p: ArrayLike, a: ArrayLike, t: ArrayLike
) -> tuple[Floats, Floats]:
    """Torques of gravity about the polar and the declination axis in given poses, shape (...).

    `p`, `a`, `t` are local unit vectors (..., 3) of the polar axis, the tube's end of the
    declination axis and the tube. Positive turns by the right-hand rule about `p` and `a`.
    """
    P, A, T = (np.asarray(v, dtype=np.float64) for v in (p, a, t))
    P, A, T = np.broadcast_arrays(P, A, T)
    B, R = np.cross(P, A), np.cross(T, A)
    mr, mt, ma = tube.moment_kg_m
    hp, hb, ha = hour.moment_kg_m
    tube_moment = mr * R + mt * T + ma * A
    all_moment = tube_moment + hp * P + hb * B + ha * A
    weight = np.array([0.0, 0.0, -STANDARD_GRAVITY_M_S2])
    about_p = np.sum(P * np.cross(all_moment, weight), axis=-1)
    about_a = np.sum(A * np.cross(tube_moment, weight), axis=-1)
    return np.asarray(about_p), np.asarray(about_a)


def balance_place_mm(masses_kg: ArrayLike, places_mm: ArrayLike) -> float:
    """The point about which masses along a line balance (the law of the lever)."""
    m, x = np.asarray(masses_kg, dtype=np.float64), np.asarray(places_mm, dtype=np.float64)
    total = float(np.sum(m))
    if not total > 0:
        raise AxletreeError("all masses are zero: nothing to balance; give masses in kilograms")
    return float(np.sum(m * x)) / total


def solve(
    kit: Kit,
    eyepiece: tuple[str, float],
    *,
    present_mm: float | None = None,
    turn_deg: float = 0.0,
    axis_altitude_deg: float | None = None,
) -> Balance:
    """Balance both axes with this eyepiece, given as (label, kilograms).

    `present_mm`: the place on the tube, from its front, that lies over the declination axis
    now. `turn_deg` turns the tube in its rings from the kit's angles. The polar axis stands at
    the latitude unless `axis_altitude_deg` says otherwise.
    """
    label, eyepiece_kg = eyepiece
    tube, head_part = kit.tube, kit.mount.head
    altitude = abs(kit.site.latitude_deg) if axis_altitude_deg is None else axis_altitude_deg
    bare = tube.balance_from_front_mm
    first = tube_masses(kit, eyepiece_kg, 0.0, turn_deg=turn_deg)
    wanted = balance_place_mm(first.mass_kg, -1000 * first.position_m[:, 1])
    # The dovetail's middle is taken to lie at the bare tube's balance point.
    reach = tube.dovetail_length_mm / 2
    over = float(np.clip(wanted, bare - reach, bare + reach))
    carried = tube_masses(kit, eyepiece_kg, over, turn_deg=turn_deg)
    head = head_masses(kit)
    need = float(carried.moment_kg_m[2] + head.moment_kg_m[2])
    ranked = loadings(kit.mount.weights, head_part.shaft_start_mm, head_part.shaft_length_mm, need)
    chosen = ranked[0]
    hour = head + weight_masses(np.asarray(chosen.mass_kg), np.asarray(chosen.position_mm))
    axis = tube_axis_m(tube, head_part)
    return Balance(
        eyepiece=label,
        over_saddle_mm=over,
        bare_balance_mm=bare,
        slide_forward_mm=over - (bare if present_mm is None else present_mm),
        short_of_slide_mm=wanted - over,
        need_kg_m=need,
        loadings=tuple(ranked),
        tube=carried,
        head=head,
        crosswise_kg_m=float(carried.moment_kg_m[0]),
        across_from_saddle_kg_m=float(carried.moment_kg_m[2] - carried.total_kg * axis),
        hour_torque_nm=hour_torque_nm(hour, carried, altitude),
        declination_torque_nm=declination_torque_nm(carried),
        load=Load(carried.total_kg, kit.mount.payload_limit_kg),
    )


def eyepieces_of(kit: Kit) -> list[tuple[str, float]]:
    """What goes into the focuser in turn, as (label, kilograms).

    Eyepieces, the same with each Barlow lens, then the camera.
    """
    found = [(e.label, e.mass_kg) for e in kit.eyepieces]
    found += [
        (e.label_with(b.factor), e.mass_kg + b.mass_kg) for b in kit.barlows for e in kit.eyepieces
    ]
    if kit.camera is not None:
        found.append((kit.camera.name, kit.camera.mass_kg))
    return found


def middle_eyepiece(choices: Sequence[tuple[str, float]]) -> tuple[str, float]:
    """The one to balance with so that swapping disturbs least: nearest to the mid mass."""
    masses = [mass for _, mass in choices]
    middle = (min(masses) + max(masses)) / 2
    return min(choices, key=lambda choice: abs(choice[1] - middle))


def eyepiece_named(kit: Kit, name: str | None) -> tuple[str, float]:
    """The eyepiece (or camera) that the person means, or the best one to balance with."""
    choices = eyepieces_of(kit)
    if name is None:
        return middle_eyepiece(choices)
    wanted = name.strip().lower().removesuffix("mm").strip()
    for label, mass in choices:
        if label.lower() == name.strip().lower() or label.lower().removesuffix(" mm") == wanted:
            return label, mass
    if wanted == "camera" and kit.camera is not None:
        return kit.camera.name, kit.camera.mass_kg
    known = ", ".join(label for label, _ in choices)
    raise AxletreeError(f"no eyepiece '{name}' in the kit; it has {known}")


@dataclass(frozen=True)
class Swap:
    """What another eyepiece does to a rig that was balanced with the first one."""

    eyepiece: str
    mass_kg: float
    hour_torque_nm: float
    declination_torque_nm: float
    slide_forward_mm: float
    weights_outward_mm: float | None


def swaps(kit: Kit, balance: Balance, *, turn_deg: float = 0.0) -> list[Swap]:
    """Each eyepiece and the camera in the focuser of the rig as `balance` left it.

    Torques are the worst over all poses with nothing moved; `slide_forward_mm` of the tube and
    `weights_outward_mm` of all weights together would balance it again.
    """
    hour = balance.masses_on_hour_axis
    altitude = abs(kit.site.latitude_deg)
    weights_kg = balance.loading.total_kg
    found = []
    for label, mass in eyepieces_of(kit):
        tube = tube_masses(kit, mass, balance.over_saddle_mm, turn_deg=turn_deg)
        extra = float(tube.moment_kg_m[2] - balance.tube.moment_kg_m[2])
        found.append(
            Swap(
                eyepiece=label,
                mass_kg=mass,
                hour_torque_nm=hour_torque_nm(hour, tube, altitude),
                declination_torque_nm=declination_torque_nm(tube),
                slide_forward_mm=-float(tube.moment_kg_m[1]) * 1000 / tube.total_kg,
                weights_outward_mm=extra * 1000 / weights_kg if weights_kg else None,
            )
        )
    return found
