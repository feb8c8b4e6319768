"""What does the kit look like after its notes of gaps, and how surely is that known?"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from axletree.axis.state import GapNote, State
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.clearance.nearest import bodies
from axletree.mount.clearance.workable import check_rig
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import Dimensions, dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats

if TYPE_CHECKING:
    from axletree.mount.learned.misfit import GapMisfit
    from axletree.mount.learned.narrow import Narrowed

# No length or mass shrinks to less than this part of what the kit says.
_LEAST_PART = 0.1
_MOST_TOLD = 4
# A dimension whose error shrank by less isn't told (our figure).
_TOLD_BELOW = 0.9


@dataclass(frozen=True)
class DimensionLearned:
    """A dimension before and after the notes, with one standard deviation each, in its unit."""

    name: str
    value_before: float
    sigma_before: float
    value: float
    sigma: float

    @property
    def left(self) -> float:
        """Which part of its error is left; all of it where there was none."""
        return self.sigma / self.sigma_before if self.sigma_before > 0.0 else 1.0


@dataclass(frozen=True)
class GapUsed:
    """A note that counts, and the two parts that it is taken to be of (moving, other)."""

    note: GapNote
    parts: tuple[str, str]


@dataclass(frozen=True)
class LearnedRig:
    """The kit after its notes: likeliest dimensions, and in `kit.learned` what is left open.

    `dimensions`: those that the notes taught most of, most first. `left_out`: contradictions.
    """

    kit: Kit
    used: tuple[GapUsed, ...]
    left_out: tuple[GapMisfit, ...]
    dimensions: tuple[DimensionLearned, ...]


def learned_rig(kit: Kit, state: State | None) -> LearnedRig | None:
    """What a state's notes of gaps teach of a kit; None where it has none."""
    if state is None or not state.gaps or kit.learned:
        return None
    return _learned(kit, state.gaps, state.set_up or state.evening)


def kit_by(kit: Kit, state: State | None) -> Kit:
    """The kit after a state's notes of gaps; itself where there are none."""
    found = learned_rig(kit, state)
    return kit if found is None else found.kit


def before_and_after(known: Dimensions, values: Floats, sigmas: Floats) -> list[DimensionLearned]:
    """Every dimension with its value and error (n,) now, the one with least of its error left
    first."""
    figures = known.values, known.sigmas, values, sigmas
    rows = zip(known.names, *(one.tolist() for one in figures), strict=True)
    return sorted((DimensionLearned(*row) for row in rows), key=lambda one: one.left)


@lru_cache(maxsize=8)
def _learned(kit: Kit, gaps: tuple[GapNote, ...], since: date) -> LearnedRig:
    """By notes in their order; whatever was noted from the evening `since` on stands as then."""
    # Most kits have no such notes: only those that have load what reckons with them.
    from axletree.mount.learned.misfit import misfit_of
    from axletree.mount.learned.narrow import narrowed

    axes = align(kit.site.latitude_deg)
    rig, known = build_rig(kit), dimensions_of(kit)
    spread = RigSpread(kit, rig, axes, bodies(rig, axes), known)
    notes = list(gaps)
    left_out: list[GapMisfit] = []
    while notes:
        set_ups = [min(note.evening, since) for note in notes]
        found = narrowed(spread, notes, set_ups, since)
        worst = misfit_of(spread, notes, set_ups, since, found)
        if worst is not None:
            del notes[worst[0]]
            left_out.append(worst[1])
            continue
        learned = _kit_of(kit, known, found)
        if not _works(learned):
            k = int(np.abs(found.misfit).argmax())
            left_out.append(_unworkable(notes.pop(k), found, k))
            continue
        used = tuple(
            GapUsed(note, spread.bodies.pairs[pair].parts)
            for note, pair in zip(notes, found.pairs.tolist(), strict=True)
        )
        now = dimensions_of(learned)
        rows = before_and_after(known, now.values, now.sigmas)
        told = [one for one in rows if one.left < _TOLD_BELOW][:_MOST_TOLD]
        return LearnedRig(learned, used, tuple(left_out), tuple(told))
    return LearnedRig(kit, (), tuple(left_out), ())


def _values(known: Dimensions, found: Narrowed) -> Floats:
    """The likeliest values, none of a length or a mass near zero."""
    values = known.values + found.off[: len(known.names)]
    sized = np.array([name.rstrip("]").endswith(("_mm", "_kg")) for name in known.names])
    least = np.where(sized, _LEAST_PART * known.values, -np.inf)
    return np.asarray(np.maximum(values, least))


def _kit_of(kit: Kit, known: Dimensions, found: Narrowed) -> Kit:
    n = len(known.names)
    changed = with_dimensions(kit, _values(known, found), known.names)
    rows = found.covariance[:n, :n].tolist()
    learned = tuple((name, tuple(row)) for name, row in zip(known.names, rows, strict=True))
    rigs = found.drawn[:n].astype(np.float32).tobytes()
    return changed.model_copy(update={"learned": learned, "learned_rigs": rigs})


def _works(kit: Kit) -> bool:
    """Whether such a rig can turn at all."""
    axes = align(kit.site.latitude_deg)
    try:
        rig = build_rig(kit)
        check_rig(rig, axes)
    except AxletreeError:
        return False
    return True


def _unworkable(note: GapNote, found: Narrowed, k: int) -> GapMisfit:
    from axletree.mount.learned.misfit import GapMisfit, MayBe

    off_mm, sigmas = float(found.misfit_m[k]) * 1000.0, float(found.misfit[k])
    sigma = off_mm / sigmas if sigmas else note.error_mm
    return GapMisfit(note, note.gap_mm - off_mm, sigma, sigmas, MayBe.POSE_OR_GAP)
