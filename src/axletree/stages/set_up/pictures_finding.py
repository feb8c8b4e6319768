"""What do plain pictures say of the axis?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

import numpy as np

from axletree.axis.frame import Pole
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.frames.solve import FramesSolution
from axletree.pole.long_exposure.solve import axis_from_long_exposure
from axletree.pole.photographs.axis import (
    CLOCK_SIGMA_S,
    axis_from_pictures,
    clock_part,
    with_clock,
)
from axletree.pole.photographs.run import Recognised, SolvedRun, solve_run
from axletree.pole.photographs.shot import Shot
from axletree.pole.picture.frame_file import Frame
from axletree.pole.solution.doubt import Doubt
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer, observer_of
from axletree.stages.set_up.axis_remarks import (
    AxisMethod,
    Remark,
    RemarkKind,
    narrow_turn_h_of,
    widened_remark,
)
from axletree.stages.set_up.measurements import PicturesMeasurement


@dataclass(frozen=True)
class PicturesFinding:
    """What plain pictures say. `shots`: all that were given; `run`: those that were recognised,
    to which the figures of `solved` belong; `moments`: the middles of their exposures. `arcs`: of
    one exposure in which the axis was turned, how many told it; 0 for several pictures.
    `clock_sigma_s`: of the camera's clock, which the estimate reckons with."""

    at: datetime
    source: str
    shots: tuple[Shot, ...]
    run: SolvedRun
    moments: tuple[datetime, ...]
    solved: FramesSolution
    method: AxisMethod = AxisMethod.PICTURES
    doubts: tuple[Doubt, ...] = ()
    arcs: int = 0
    clock_sigma_s: float = CLOCK_SIGMA_S

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error that they tell, the clock's error in its own."""
        return with_clock(self.solved.estimate, self.clock_sigma_s)

    @property
    def clock_arcmin(self) -> float:
        """What the clock alone may do to the axis, one standard deviation."""
        return clock_part(self.clock_sigma_s) * self.solved.estimate.total_arcmin

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What was settled, and what was taken for granted; rows as the pictures were given."""
        given = [r.which for r in self.run.recognised]
        found = [Remark(RemarkKind.NOT_RECOGNISED, (k,)) for k in self.run.unrecognised]
        found += [Remark(RemarkKind.LEFT_OUT, (given[k],)) for k in self.solved.left_out]
        found += [
            Remark(RemarkKind.NO_EXPOSURE_TIME, (k,))
            for k, shot in enumerate(self.shots)
            if not shot.exposure_known
        ]
        return (*found, *widened_remark(self.solved.widened))

    @property
    def narrow_turn_h(self) -> float | None:
        """How far the hour axis was turned in all, where more would sharpen this most."""
        return None if self.arcs else narrow_turn_h_of(self.solved)


def pictures_finding(measurement: PicturesMeasurement, kit: Kit, pole: Pole) -> PicturesFinding:
    """The axis by pictures; refuses in a sentence what `solve_run` and the solvers refuse."""
    shots, observer = measurement.shots, observer_of(kit.site)
    clock = measurement.clock_sigma_s
    if measurement.one_turned:
        return replace(_of_one(shots[0], observer, pole), clock_sigma_s=clock)
    run = solve_run(shots, observer, measurement.towards)
    solved = axis_from_pictures(run, observer, pole=pole)
    moments = middles_of(run.recognised)
    source = ", ".join(shot.name for shot in shots)
    return PicturesFinding(max(moments), source, shots, run, moments, solved, clock_sigma_s=clock)


def _of_one(shot: Shot, observer: Observer, pole: Pole) -> PicturesFinding:
    found = axis_from_long_exposure(shot, observer, pole)
    one, solved = found.recognised, found.as_frames
    run = SolvedRun(
        (one,), found.solved.lens, (shot.grey.shape[1], shot.grey.shape[0]), np.zeros((3, 3)),
        found.solved.rms_px, (),
    )  # fmt: skip
    moments = middles_of([shot])
    return PicturesFinding(moments[0], shot.name, (shot,), run, moments, solved, arcs=found.arcs)


def middles_of(frames: Sequence[Frame | Shot | Recognised]) -> tuple[datetime, ...]:
    """The middles of their exposures, UTC."""
    return tuple(frame.middle.to_datetimes()[0] for frame in frames)
