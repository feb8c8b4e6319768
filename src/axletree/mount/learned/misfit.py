"""Which note doesn't fit the others and the kit, and what may be wrong with it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from enum import Enum

import numpy as np

from axletree.axis.state import GapNote
from axletree.kit.frozen import dataclass
from axletree.mount.dimensions.of_kit import DimensionSource
from axletree.mount.learned.narrow import Narrowed, narrowed
from axletree.mount.sure.spread import RigSpread

MISFIT_SIGMAS = 3.0
# Within so many standard deviations the other tube side explains a note (our figure).
_EXPLAINED = 2.0


class MayBe(Enum):
    """What may be wrong with a note, or with the kit."""

    OTHER_SIDE = "other_side"  # on the other tube side the note would fit
    OTHER_NOTE = "other_note"  # without another note it would fit
    DIMENSION = "dimension"  # one dimension given in the kit would have to be another
    POSE_OR_GAP = "pose_or_gap"  # nothing of these: look at the note's own figures


@dataclass(frozen=True)
class GapMisfit:
    """A note that was left out, since it lies more than three standard deviations off.

    `expected_mm` is the gap that the kit and all other notes expect, ± `sigma_mm` with the note's
    own error; `sigmas` how far the note lies from it. `may_be`: what may be wrong; `other`: the
    note that it contradicts; `dimension`: one given in the kit that would have to be more by
    `needed` in its own unit.
    """

    note: GapNote
    expected_mm: float
    sigma_mm: float
    sigmas: float
    may_be: MayBe
    other: GapNote | None = None
    dimension: str | None = None
    needed: float = 0.0


def misfit_of(
    spread: RigSpread, notes: Sequence[GapNote], set_ups: Sequence[object], tonight: object,
    found: Narrowed,
) -> tuple[int, GapMisfit] | None:  # fmt: skip
    """The note that lies farthest off, by its number, with what may be wrong; None where all
    fit."""
    worst = int(np.abs(found.misfit).argmax())
    sigmas = float(found.misfit[worst])
    if abs(sigmas) <= MISFIT_SIGMAS:
        return None
    note = notes[worst]
    off_mm = float(found.misfit_m[worst]) * 1000.0
    expected, sigma = note.gap_mm - off_mm, off_mm / sigmas
    rest = [k for k in range(len(notes)) if k != worst]

    def told(may_be: MayBe, **more: object) -> tuple[int, GapMisfit]:
        return worst, GapMisfit(note, expected, sigma, sigmas, may_be, **more)  # type: ignore[arg-type]

    for k in rest:
        without = [i for i in range(len(notes)) if i != k]
        alone = narrowed(
            spread, [notes[i] for i in without], [set_ups[i] for i in without], tonight
        )
        if abs(float(alone.misfit[without.index(worst)])) < MISFIT_SIGMAS:
            return told(MayBe.OTHER_NOTE, other=notes[k])
    swapped = _on_other_side(note)
    if abs(_misfit_with(spread, swapped, worst, notes, set_ups, tonight)) < _EXPLAINED:
        return told(MayBe.OTHER_SIDE)
    given = _given_dimension(spread, found, worst, off_mm / 1000.0)
    if given is not None:
        return told(MayBe.DIMENSION, dimension=given[0], needed=given[1])
    return told(MayBe.POSE_OR_GAP)


def _on_other_side(note: GapNote) -> GapNote:
    return replace(note, side="west" if note.side == "east" else "east")


def _misfit_with(
    spread: RigSpread, one: GapNote, at: int, notes: Sequence[GapNote],
    set_ups: Sequence[object], tonight: object,
) -> float:  # fmt: skip
    """How far a note would lie off if it stood in place of another."""
    tried = [one if k == at else note for k, note in enumerate(notes)]
    return float(narrowed(spread, tried, set_ups, tonight).misfit[at])


def _given_dimension(
    spread: RigSpread, found: Narrowed, worst: int, off_m: float
) -> tuple[str, float] | None:
    """The plain number of the kit that would explain the note with the least change of its own
    size, if less than a third of it does; and by how much it would have to be more."""
    known = spread.known
    slope = found.slopes[worst, : len(known.names)]
    read = np.array([source is DimensionSource.READ_OFF for source in known.sources])
    size = np.abs(known.values)
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = off_m / slope
        part = np.where(read & (size > 0.0) & (slope != 0.0), np.abs(needed) / size, np.inf)
    k = int(np.nanargmin(part))
    return (known.names[k], float(needed[k])) if part[k] < 1.0 / 3.0 else None
