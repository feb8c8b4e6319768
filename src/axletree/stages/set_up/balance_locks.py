"""What do both axes do when their locks are opened, with weights and tube where a hand put them?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.mount import Weight
from axletree.mount.balance.weights import loading_at
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.mount.steady.swing import FRICTION_NM, Freed, freed_declination, freed_hour


@dataclass(frozen=True)
class PlacedWeight:
    """One owned weight on the shaft: its number in `owned_weights`, and the gap to its face."""

    owned: int
    gap_mm: float


@dataclass(frozen=True)
class LocksRequest:
    """The rig as it stands: weights, the tube's front to the saddle's middle, the eyepiece.

    An eyepiece that the kit doesn't name counts as its first.
    """

    weights: tuple[PlacedWeight, ...]
    front_to_saddle_mm: float
    eyepiece: str = ""


@dataclass(frozen=True)
class LocksAnswer:
    """Both axes free, each with its lever level, and what would bring it to rest there.

    `weights_outward_mm`: all weights together (None without any); `tube_to_the_back_mm`: the
    tube, negative towards the sky. Up to `friction_nm` an axis stays where it is.
    """

    hour: Freed
    declination: Freed
    weights_outward_mm: float | None
    tube_to_the_back_mm: float
    friction_nm: float


def owned_weights(kit: Kit) -> list[Weight]:
    """Every counterweight of the kit, one by one, in the kit's order."""
    return [weight for weight in kit.mount.weights for _ in range(weight.count)]


def balance_locks(kit: Kit, request: LocksRequest) -> LocksAnswer:
    """How both axes would turn. Refuses weights that nobody owns or that hang beside the shaft."""
    head, owned = kit.mount.head, owned_weights(kit)
    for placed in request.weights:
        if not 0 <= placed.owned < len(owned):
            raise AxletreeError(f"'{placed.owned}' is no weight of this kit on its shaft")
    loading = loading_at(
        [(owned[placed.owned], placed.gap_mm) for placed in request.weights],
        head.shaft_start_mm,
        head.shaft_length_mm,
    )
    labels = [eyepiece.label for eyepiece in kit.eyepieces]
    rig = build_rig(
        kit,
        eyepiece=labels.index(request.eyepiece) if request.eyepiece in labels else 0,
        loading=loading,
        clamp_from_front_mm=request.front_to_saddle_mm,
    )
    hour = freed_hour(rig, align(kit.site.latitude_deg).altitude_deg)
    declination = freed_declination(rig)
    on_shaft_kg = loading.total_kg
    return LocksAnswer(
        hour=hour,
        declination=declination,
        weights_outward_mm=hour.along_kg_m * 1000 / on_shaft_kg if on_shaft_kg else None,
        tube_to_the_back_mm=declination.along_kg_m * 1000 / declination.mass_kg,
        friction_nm=FRICTION_NM,
    )
