"""Where do the weights and the tube go, and does the rig stand? Masses in, places and push out."""

from __future__ import annotations

from enum import Enum

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.positions import (
    STANDARD_GRAVITY_M_S2,
    Balance,
    Load,
    Swap,
    eyepiece_named,
    solve,
    swaps,
)
from axletree.mount.balance.scale_reading import Correction, OnShaft, ScaleReading, correct
from axletree.mount.balance.trim import Certainty, Trim, certainty, trim
from axletree.mount.balance.weights import longer_shaft_mm, missing_at_end_kg
from axletree.mount.rig.turned import turned_kit
from axletree.mount.steady.steadier import Remedy, child_tips_chance, remedies, stand_sigma
from axletree.mount.steady.swing import FRICTION_NM
from axletree.mount.steady.tipping import Built, HalfBuilt, Tipping, half_built, slope_of, tipping

THIN_MARGIN_MM = 60.0  # of a half-built rig: a bump or a soft spot may use it up (our figure)
NO_TORQUE_NM = 0.005  # nothing to speak of (our figure)
MUCH_FOR_CAMERA = 0.60  # of the rated load, for long exposures (common practice, no source)
SAME_MASS_KG = 0.05  # a swap that adds no more is the same load (our figure)
HEAVIEST_TRAY_LOAD_KG = 200.0


@dataclass(frozen=True)
class BalanceRequest:
    """What was found at the rig; None takes the kit's word.

    `eyepiece`: its name, or 'camera'; None the one with which swapping disturbs least.
    `front_to_saddle_mm`: the tube's front end to the saddle's middle as it is clamped now.
    `ring_turn_deg` replaces the kit's, `tray_kg` is the load in the tray. `readings` of a
    luggage scale, with the weights that were `on_shaft` (None: unknown).
    """

    eyepiece: str | None = None
    front_to_saddle_mm: float | None = None
    ring_turn_deg: float | None = None
    tray_kg: float | None = None
    readings: tuple[ScaleReading, ...] = ()
    on_shaft: tuple[OnShaft, ...] | None = None


class WorkStep(Enum):
    """The steps of the work, in their order."""

    TRIPOD = "tripod"
    WEIGHTS_THEN_TUBE = "weights_then_tube"
    EYEPIECE = "eyepiece"
    DECLINATION = "declination"
    HOUR = "hour"
    CROSSWISE = "crosswise"
    TAKING_DOWN = "taking_down"


class BalanceCaution(Enum):
    """What can hurt while the rig is balanced, or once it stands."""

    OVERLOADED = "overloaded"
    WEIGHTS_FIRST = "weights_first"
    LOCKS = "locks"
    SAFETY_SCREW = "safety_screw"
    SADDLE_SCREWS = "saddle_screws"
    PUSHED_OVER_EASILY = "pushed_over_easily"
    HARDLY_STANDS_WITHOUT_TUBE = "hardly_stands_without_tube"
    PUBLIC_EVENT = "public_event"
    HARD_GROUND = "hard_ground"


class BalanceAssumption(Enum):
    """What the placements rest on."""

    EYEPIECE = "eyepiece"
    SLIDE_FROM_BARE_BALANCE = "slide_from_bare_balance"
    GUESSED_VALUES = "guessed_values"


class ShortfallKind(Enum):
    """Why no combination of the owned weights balances the tube."""

    NO_WEIGHT_FITS = "no_weight_fits"  # each is too heavy even against the head
    NOT_ENOUGH = "not_enough"
    SHAFT_TOO_HEAVY = "shaft_too_heavy"
    TOO_MUCH = "too_much"


@dataclass(frozen=True)
class Shortfall:
    """What the chosen weights lack, or have too much, at worst.

    `torque_nm` as a plain size; `missing_at_end_kg` at the shaft's very end would close it, or a
    shaft `longer_shaft_mm` longer (None where that is no help: twice the shaft, or no weight).
    """

    kind: ShortfallKind
    torque_nm: float
    missing_at_end_kg: float
    longer_shaft_mm: float | None


class Crosswise(Enum):
    """Whether the moment beside the tube's axis wants a hand."""

    NONE = "none"
    NOT_FELT = "not_felt"
    TO_TRIM = "to_trim"


class LoadVerdict(Enum):
    """The load on the saddle against the mount's rating."""

    WITHIN = "within"
    MUCH_FOR_CAMERA = "much_for_camera"
    MORE_THAN_RATED = "more_than_rated"


@dataclass(frozen=True)
class BalanceAnswer:
    """Everything about balance and tipping of one kit with one eyepiece.

    `kit` is the kit as it was asked about, turned in its rings and loaded. `shortfall` is None
    where the weights balance. `heaviest` is the swap that loads the saddle more than now, with
    the kilograms that it then carries. `standing` has the tray's load, `empty_tray` none;
    `leaning` is None on level ground. The two sigmas belong to `standing` and come from what
    the kit's dimensions are known to; `child_tips_chance` is that of a leaning child.
    `half_built`: weights without tube, then tube without weights.
    """

    kit: Kit
    eyepiece: tuple[str, float]
    front_to_saddle_mm: float | None
    balance: Balance
    shortfall: Shortfall | None
    trim: Trim
    crosswise: Crosswise
    certainty: Certainty
    swaps: tuple[Swap, ...]
    load_verdict: LoadVerdict
    heaviest: tuple[str, float] | None
    corrections: tuple[Correction, ...]
    standing: Tipping
    empty_tray: Tipping
    leaning: Tipping | None
    push_sigma_n: float
    child_tips_chance: float
    margin_sigma_mm: float
    half_built: tuple[HalfBuilt, HalfBuilt]
    remedies: tuple[Remedy, ...]
    order_of_work: tuple[WorkStep, ...]
    cautions: tuple[BalanceCaution, ...]
    assumptions: tuple[BalanceAssumption, ...]


def balance(kit: Kit, request: BalanceRequest) -> BalanceAnswer:
    """Balance and tipping of a kit. Refuses eyepieces, places and loads that can't be."""
    kit = _as_found(kit, request)
    eyepiece = eyepiece_named(kit, request.eyepiece)
    found = solve(kit, eyepiece, present_mm=request.front_to_saddle_mm)
    now = tipping(kit)
    push_sigma, margin_sigma = stand_sigma(kit, now)
    swapped = tuple(swaps(kit, found))
    sure = certainty(kit, eyepiece, found)
    half = (half_built(kit, Built.WEIGHTS_ONLY), half_built(kit, Built.TUBE_ONLY))
    return BalanceAnswer(
        kit=kit,
        eyepiece=eyepiece,
        front_to_saddle_mm=request.front_to_saddle_mm,
        balance=found,
        shortfall=shortfall(kit, found),
        trim=trim(kit, found),
        crosswise=_crosswise(found),
        certainty=sure,
        swaps=swapped,
        load_verdict=_verdict(kit, found.load),
        heaviest=_heaviest(found.load, swapped, eyepiece[1]),
        corrections=tuple(
            correct(kit, reading, request.on_shaft, found.load.carried_kg)
            for reading in request.readings
        ),
        standing=now,
        empty_tray=tipping(kit, tray_kg=0.0),
        leaning=tipping(kit, leaning=True) if slope_of(kit)[0] > 0.0 else None,
        push_sigma_n=push_sigma,
        child_tips_chance=child_tips_chance(now.push_n, push_sigma),
        margin_sigma_mm=margin_sigma,
        half_built=half,
        remedies=tuple(remedies(kit)),
        order_of_work=tuple(WorkStep),
        cautions=_cautions(kit, found.load, now, half[0]),
        assumptions=_assumptions(kit, request, sure),
    )


def _as_found(kit: Kit, request: BalanceRequest) -> Kit:
    """The kit turned in its rings and loaded as the request says."""
    if request.ring_turn_deg is not None:
        kit = turned_kit(kit, request.ring_turn_deg)
    at = request.front_to_saddle_mm
    if at is not None and not 0 <= at <= kit.tube.length_mm:
        raise AxletreeError(
            f"the saddle holds the tube somewhere on its {kit.tube.length_mm:g} mm; "
            f"{at:g} mm from the front lies outside"
        )
    load = request.tray_kg
    if load is None:
        return kit
    if not 0 <= load <= HEAVIEST_TRAY_LOAD_KG:
        raise AxletreeError(
            f"{load:g} kg is no load for a tray; give 0 to {HEAVIEST_TRAY_LOAD_KG:g} kg"
        )
    tripod = kit.mount.tripod.model_copy(update={"tray_load_kg": load})
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})


def shortfall(kit: Kit, found: Balance) -> Shortfall | None:
    """What the chosen weights lack or have too much; None where they balance the tube."""
    head, loading = kit.mount.head, found.loading
    if loading.exact:
        return None
    if loading.leftover_kg_m > 0:
        kind = ShortfallKind.NOT_ENOUGH if loading.mass_kg else ShortfallKind.NO_WEIGHT_FITS
    else:
        kind = ShortfallKind.TOO_MUCH if loading.mass_kg else ShortfallKind.SHAFT_TOO_HEAVY
    longer = longer_shaft_mm(loading)
    helps = kind is ShortfallKind.NOT_ENOUGH and longer < 2 * head.shaft_length_mm
    return Shortfall(
        kind=kind,
        torque_nm=abs(loading.leftover_kg_m) * STANDARD_GRAVITY_M_S2,
        missing_at_end_kg=missing_at_end_kg(loading, head.shaft_start_mm, head.shaft_length_mm),
        longer_shaft_mm=longer if helps else None,
    )


def _crosswise(found: Balance) -> Crosswise:
    if found.crosswise_torque_nm < NO_TORQUE_NM:
        return Crosswise.NONE
    # What an opened axis holds by itself, no hand notices.
    return Crosswise.NOT_FELT if found.crosswise_torque_nm < FRICTION_NM else Crosswise.TO_TRIM


def _verdict(kit: Kit, load: Load) -> LoadVerdict:
    if load.fraction > 1:
        return LoadVerdict.MORE_THAN_RATED
    if kit.camera is not None and load.fraction > MUCH_FOR_CAMERA:
        return LoadVerdict.MUCH_FOR_CAMERA
    return LoadVerdict.WITHIN


def _heaviest(load: Load, swapped: tuple[Swap, ...], now_kg: float) -> tuple[str, float] | None:
    swap = max(swapped, key=lambda s: s.mass_kg)
    more = swap.mass_kg - now_kg
    return (swap.eyepiece, load.carried_kg + more) if more > SAME_MASS_KG else None


def _cautions(
    kit: Kit, load: Load, now: Tipping, weights_only: HalfBuilt
) -> tuple[BalanceCaution, ...]:
    found = [BalanceCaution.OVERLOADED] if load.fraction > 1 else []
    found += [
        BalanceCaution.WEIGHTS_FIRST,
        BalanceCaution.LOCKS,
        BalanceCaution.SAFETY_SCREW,
        BalanceCaution.SADDLE_SCREWS,
    ]
    if now.too_easy:
        found.append(BalanceCaution.PUSHED_OVER_EASILY)
    if weights_only.margin_mm < THIN_MARGIN_MM:
        found.append(BalanceCaution.HARDLY_STANDS_WITHOUT_TUBE)
    public = kit.habits.visitors > 0
    found.append(BalanceCaution.PUBLIC_EVENT if public else BalanceCaution.HARD_GROUND)
    return tuple(found)


def _assumptions(
    kit: Kit, request: BalanceRequest, sure: Certainty
) -> tuple[BalanceAssumption, ...]:
    if not kit.guessed:
        return ()
    found = [BalanceAssumption.EYEPIECE]
    if request.front_to_saddle_mm is None:
        found.append(BalanceAssumption.SLIDE_FROM_BARE_BALANCE)
    if sure.guessed and sure.weights_sigma_mm is not None:
        found.append(BalanceAssumption.GUESSED_VALUES)
    return tuple(found)
