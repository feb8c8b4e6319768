"""What is to be measured first, and what is known of it now?"""

from __future__ import annotations

import re
from datetime import date, datetime
from enum import Enum
from pathlib import Path

from axletree.axis.state import State
from axletree.evening.sheet.plan import EveningRequest
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit, check_text
from axletree.kit.writing.measured import measured_number, with_measured
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.names import rig_names
from axletree.mount.dimensions.of_kit import DimensionSource, dimensions_of
from axletree.mount.learned.learn import LearnedRig, learned_rig
from axletree.mount.rig.build import build_rig
from axletree.mount.room.table import room_table
from axletree.mount.sure.measure_first import MeasureFirst, of_whole_sky
from axletree.mount.sure.spread import RigSpread
from axletree.stages.night.evening import evening

_BALANCED = re.compile(r"^\s*balanced\s+", re.IGNORECASE)
_TUBE = "tube.balance_from_front_mm"
_ROUNDS, _CLOSE_MM = 20, 0.1


class MeasureFor(Enum):
    """For which rooms?"""

    WHOLE_SKY = "whole_sky"
    TONIGHT = "tonight"


@dataclass(frozen=True)
class MeasureRequest:
    """Whole sky, or the evening of `day` as planned at `made_at` where that is given. By `state`
    the rig is what notes of gaps taught."""

    day: date | None = None
    made_at: datetime | None = None
    kit_folder: Path | None = None
    state: State | None = None


@dataclass(frozen=True)
class ToMeasure:
    """A dimension to measure, what it brings, and its value so far ± one standard deviation."""

    first: MeasureFirst
    value: float
    sigma: float
    source: DimensionSource


@dataclass(frozen=True)
class MeasureAnswer:
    """The dimensions, most telling first, each once those before it are measured; `kit` as its
    notes taught it."""

    kit: Kit
    of: MeasureFor
    day: date | None
    dimensions: tuple[ToMeasure, ...]
    learned: LearnedRig | None = None


def measure(kit: Kit, request: MeasureRequest) -> MeasureAnswer:
    """What is to be measured first. Refuses a rig that can't work."""
    learned = learned_rig(kit, request.state)
    kit = kit if learned is None else learned.kit
    if request.day is not None and request.made_at is not None:
        asked = EveningRequest(
            request.day, request.made_at, kit_folder=request.kit_folder, state=request.state
        )
        firsts = evening(kit, asked).measure_first
    else:
        table = room_table(kit)
        firsts = of_whole_sky(RigSpread.of(kit, table), table)
    known = dimensions_of(kit)
    rows = []
    for one in firsts:
        k = known.index(one.name)
        rows.append(
            ToMeasure(one, float(known.values[k]), float(known.sigmas[k]), known.sources[k])
        )
    of = MeasureFor.WHOLE_SKY if request.day is None else MeasureFor.TONIGHT
    return MeasureAnswer(kit, of, request.day, tuple(rows), learned)


def is_balanced(typed: str) -> bool:
    """Whether a number is what balancing shows: 'balanced 372'."""
    return _BALANCED.match(typed) is not None


def with_typed(text: str, name: str, typed: str, units: str, day: date) -> str:
    """A kit's text with what was typed for one dimension; refuses what would make it no kit."""
    kit, problems = check_text(text)
    if kit is None:
        raise AxletreeError(f"not written: {problems[0]}")
    if name not in rig_names(kit):
        raise AxletreeError(f"{name}: no dimension of this kit's rig; 'kit check' lists them")
    if is_balanced(typed) and name != _TUBE:
        raise AxletreeError(f"{name}: only {_TUBE} is seen by balancing")
    value, error = measured_number(name, _BALANCED.sub("", typed), units)
    if is_balanced(typed):
        value = round(bare_balance_mm(kit, value), 1)
    written = with_measured(text, name, value, error, day)
    _, problems = check_text(written)
    if problems:
        raise AxletreeError(f"not written: {problems[0]}")
    return written


def bare_balance_mm(kit: Kit, front_to_saddle_mm: float) -> float:
    """Where the bare tube balances from its front, if with everything on it balance puts the
    saddle's middle so far from the front; secant rule. Refuses what no tube of the kit does."""

    def clamp(bare: float) -> float:
        return build_rig(with_dimensions(kit, [bare], [_TUBE])).clamp_from_front_m * 1000.0

    a, b = kit.tube.balance_from_front_mm, kit.tube.balance_from_front_mm + 10.0
    fa, fb = clamp(a) - front_to_saddle_mm, clamp(b) - front_to_saddle_mm
    for _ in range(_ROUNDS):
        if abs(fb) < _CLOSE_MM or fb == fa:
            break
        a, b = b, b - fb * (b - a) / (fb - fa)
        fa, fb = fb, clamp(b) - front_to_saddle_mm
    if abs(fb) > _CLOSE_MM or not 0.0 < b < kit.tube.length_mm:
        raise AxletreeError(
            f"{front_to_saddle_mm:.0f} mm from the front in balance doesn't fit the tube's "
            "masses in the kit; look at tube.mass_kg and what sits on the tube"
        )
    return b
