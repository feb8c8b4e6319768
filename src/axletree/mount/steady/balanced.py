"""What does the person need to know to balance this rig and leave it standing?

One report gathers the answers of `balance`, `trim`, `scale_reading`, `tipping` and `steadier`,
so that text, JSON and drawings say the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.balance.positions import (
    Balance,
    Swap,
    eyepieces_of,
    middle_eyepiece,
    solve,
    swaps,
)
from axletree.mount.balance.scale_reading import Correction, OnShaft, ScaleReading, correct
from axletree.mount.balance.trim import Certainty, Trim, certainty, trim
from axletree.mount.steady.steadier import Remedy, remedies, stand_sigma
from axletree.mount.steady.tipping import HalfBuilt, Tipping, half_built, slope_of, tipping


@dataclass(frozen=True)
class BalanceReport:
    """Everything about balance and tipping of one kit with one eyepiece.

    `standing` has the kit's load (or the one asked for) in the tray, `empty_tray` none;
    `leaning` is None on level ground. The two sigmas belong to `standing` and come from what the
    kit leaves to be guessed.
    """

    kit: Kit
    eyepiece: tuple[str, float]
    present_mm: float | None
    balance: Balance
    trim: Trim
    certainty: Certainty
    swaps: tuple[Swap, ...]
    corrections: tuple[Correction, ...]
    standing: Tipping
    empty_tray: Tipping
    leaning: Tipping | None
    push_sigma_n: float
    margin_sigma_mm: float
    half_built: tuple[HalfBuilt, ...]
    remedies: tuple[Remedy, ...]


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


def turned_kit(kit: Kit, ring_turn_deg: float) -> Kit:
    """The kit with its focuser (or diagonal) at another angle around the tube.

    A Newtonian's tube turns in its rings with all that rides on it; elsewhere only the diagonal
    turns. Refuses a tube that can't.
    """
    tube = kit.tube
    if not -360 <= ring_turn_deg <= 360:
        raise AxletreeError(f"a ring turn of {ring_turn_deg:g} degrees; give -360 to 360")
    if tube.ring_turn_fixed:
        raise AxletreeError(
            "the kit says ring_turn_fixed = true: this tube can't turn in its rings"
        )
    changes: dict[str, Any] = {"ring_turn_deg": ring_turn_deg}
    if tube.kind == "newtonian":
        by = ring_turn_deg - tube.ring_turn_deg
        if tube.finder is not None:
            angle = tube.finder.angle_deg + by
            changes["finder"] = tube.finder.model_copy(update={"angle_deg": angle})
        changes["accessories"] = tuple(
            a.model_copy(update={"angle_deg": a.angle_deg + by}) for a in tube.accessories
        )
    return kit.model_copy(update={"tube": tube.model_copy(update=changes)})


def balance_report(
    kit: Kit,
    *,
    eyepiece: str | None = None,
    present_mm: float | None = None,
    ring_turn_deg: float | None = None,
    tray_kg: float | None = None,
    readings: Sequence[ScaleReading] = (),
    present_weights: Sequence[OnShaft] | None = None,
) -> BalanceReport:
    """Balance and tipping of a kit.

    `ring_turn_deg` replaces the kit's, see `turned_kit`. `present_mm`, `readings` and
    `present_weights` are what was found at the rig.
    """
    if ring_turn_deg is not None:
        kit = turned_kit(kit, ring_turn_deg)
    chosen = eyepiece_named(kit, eyepiece)
    if present_mm is not None and not 0 <= present_mm <= kit.tube.length_mm:
        raise AxletreeError(
            f"the saddle holds the tube somewhere on its {kit.tube.length_mm:g} mm; "
            f"{present_mm:g} mm from the front lies outside"
        )
    if tray_kg is not None:
        if not 0 <= tray_kg <= 200:
            raise AxletreeError(f"{tray_kg:g} kg is no load for a tray; give 0 to 200 kg")
        tripod = kit.mount.tripod.model_copy(update={"tray_load_kg": tray_kg})
        kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})
    balance = solve(kit, chosen, present_mm=present_mm)
    sloping = slope_of(kit)[0] > 0.0
    now = tipping(kit)
    push_sigma, margin_sigma = stand_sigma(kit, now)
    return BalanceReport(
        kit=kit,
        eyepiece=chosen,
        present_mm=present_mm,
        balance=balance,
        trim=trim(kit, balance),
        certainty=certainty(kit, chosen, balance),
        swaps=tuple(swaps(kit, balance)),
        corrections=tuple(
            correct(kit, r, present_weights, balance.load.carried_kg) for r in readings
        ),
        standing=now,
        empty_tray=tipping(kit, tray_kg=0.0),
        leaning=tipping(kit, leaning=True) if sloping else None,
        push_sigma_n=push_sigma,
        margin_sigma_mm=margin_sigma,
        half_built=(half_built(kit, "weights only"), half_built(kit, "tube only")),
        remedies=tuple(remedies(kit)),
    )
