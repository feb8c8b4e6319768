"""What does one measurement of the axis say: its estimate, what looked wrong, what to do next?"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime

from axletree.axis.frame import Pole
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.circles import WITH_CARE_DIVISION
from axletree.pole.correct.next_star import NextReading, next_reading
from axletree.pole.drift.solve import DriftSolution, solve_drift
from axletree.pole.frames.solve import FramesSolution, axis_from_frames
from axletree.pole.picture.frame_file import Frame, FrameNote
from axletree.pole.readings.observed import CircleErrors
from axletree.pole.readings.solve import (
    ReadingsSolution,
    circle_sigmas_arcmin,
    solve_readings,
)
from axletree.pole.rows.drift_file import DriftRows
from axletree.pole.rows.readings_file import CircleRows
from axletree.pole.solution.candidates import candidates
from axletree.pole.solution.doubt import Doubt
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.axis_remarks import (
    AxisMethod,
    Remark,
    RemarkKind,
    narrow_turn_h_of,
    widened_remark,
)
from axletree.stages.set_up.measurements import (
    DriftMeasurement,
    FramesMeasurement,
    Measurement,
    PicturesMeasurement,
    ReadingsMeasurement,
)
from axletree.stages.set_up.pictures_finding import PicturesFinding, middles_of, pictures_finding

# An ellipse longer than this many times its width comes of frames far from the pole (our figure).
LONG_ELLIPSE = 4.0


@dataclass(frozen=True)
class ReadNext:
    """The star to read the circles on next, its place and what that brings."""

    star: str
    hour_angle_h: float
    side: str
    reading: NextReading


@dataclass(frozen=True)
class DriftFinding:
    """What drifts say. `evidence` of earlier measurements told which explanation fits."""

    at: datetime
    source: str
    rows: DriftRows
    solved: DriftSolution
    method: AxisMethod = AxisMethod.DRIFT

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error that they tell."""
        return self.solved.estimate

    @property
    def row_names(self) -> tuple[tuple[str, int], ...]:
        """Star and line of each row."""
        return tuple(zip(self.rows.names, self.rows.lines, strict=True))

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """What the rows can't settle, with their names."""
        named = tuple(f"{name} (line {line})" for name, line in self.row_names)
        return tuple(replace(doubt, names=named) for doubt in self.solved.doubts)

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What was settled."""
        found = [Remark(RemarkKind.LEFT_OUT, (k,)) for k in self.solved.left_out]
        if self.solved.taken_reversed:
            found.insert(0, Remark(RemarkKind.TAKEN_REVERSED, self.solved.taken_reversed))
        return tuple(found)


@dataclass(frozen=True)
class ReadingsFinding:
    """What circle readings say, of the axis and of the mount itself."""

    at: datetime
    source: str
    rows: CircleRows
    solved: ReadingsSolution
    next_reading: ReadNext | None
    method: AxisMethod = AxisMethod.READINGS
    doubts: tuple[Doubt, ...] = ()

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error that they tell."""
        return self.solved.estimate

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What was settled."""
        solved = self.solved
        found = [
            Remark(RemarkKind.LEFT_OUT, (k,), slip=slip)
            for k, slip in zip(solved.left_out, solved.slips, strict=True)
        ]
        found += [Remark(RemarkKind.SET_ANEW, circle=circle) for circle in solved.set_anew]
        return (*found, *widened_remark(solved.widened))


@dataclass(frozen=True)
class FramesFinding:
    """What frames say. `source`: their names."""

    at: datetime
    source: str
    frames: tuple[Frame, ...]
    moments: tuple[datetime, ...]
    solved: FramesSolution
    method: AxisMethod = AxisMethod.FRAMES
    doubts: tuple[Doubt, ...] = ()

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error that they tell."""
        return self.solved.estimate

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What was settled, and what was taken for granted."""
        found = [Remark(RemarkKind.LEFT_OUT, (k,)) for k in self.solved.left_out]
        found += [
            Remark(RemarkKind.NO_EXPOSURE_TIME, (k,))
            for k, frame in enumerate(self.frames)
            if FrameNote.NO_EXPOSURE_TIME in frame.notes
        ]
        return (*found, *widened_remark(self.solved.widened))

    @property
    def narrow_turn_h(self) -> float | None:
        """How far the hour axis was turned in all, where more would sharpen this most."""
        return narrow_turn_h_of(self.solved)

    @property
    def nearer_the_pole(self) -> bool:
        """Whether frames nearer the pole would help: there the turn about the middle of the
        picture, which is known worst, counts less."""
        ellipse = self.estimate.ellipse()
        return ellipse is not None and ellipse.long_arcmin > LONG_ELLIPSE * ellipse.short_arcmin


Finding = DriftFinding | ReadingsFinding | FramesFinding | PicturesFinding


def measured_at(measurement: Measurement, otherwise: datetime) -> datetime:
    """When a measurement was made: its latest row or frame, `otherwise` where none says."""
    if isinstance(measurement, FramesMeasurement):
        return max(middles_of(measurement.frames), default=otherwise)
    if isinstance(measurement, PicturesMeasurement):
        return max(middles_of(measurement.shots), default=otherwise)
    return max((m for m in measurement.rows.moments if m is not None), default=otherwise)


def find(
    measurement: Measurement, kit: Kit, at: datetime, pole: Pole, evidence: AxisEstimate | None
) -> Finding:
    """What a measurement says by itself. `evidence`: what earlier ones of tonight say."""
    if isinstance(measurement, DriftMeasurement):
        return _of_drifts(measurement, kit, at, pole, evidence)
    if isinstance(measurement, ReadingsMeasurement):
        return _of_readings(measurement, kit, at, pole)
    if isinstance(measurement, PicturesMeasurement):
        return pictures_finding(measurement, kit, pole)
    return _of_frames(measurement, kit, pole)


def _of_drifts(
    measurement: DriftMeasurement,
    kit: Kit,
    at: datetime,
    pole: Pole,
    evidence: AxisEstimate | None,
) -> DriftFinding:
    rows = measurement.rows
    solved = solve_drift(rows.stars, observer_of(kit.site), pole=pole, evidence=evidence)
    return DriftFinding(measured_at(measurement, at), measurement.source, rows, solved)


def _of_readings(
    measurement: ReadingsMeasurement, kit: Kit, at: datetime, pole: Pole
) -> ReadingsFinding:
    rows, centring = measurement.rows, measurement.centring_arcmin
    circles, guessed = kit.mount.circles, "mount.circles.read_division" in kit.guessed
    sigmas = circle_sigmas_arcmin(
        circles.hour_division_min,
        circles.declination_division_deg,
        WITH_CARE_DIVISION if guessed else circles.read_division,
    )
    solved = solve_readings(
        rows.readings, observer_of(kit.site), CircleErrors(*sigmas, centring), pole=pole
    )
    moment = measured_at(measurement, at)
    sigma = (math.hypot(sigmas[0], centring), math.hypot(sigmas[1], centring))
    return ReadingsFinding(
        moment, measurement.source, rows, solved, _read_next(solved, sigma, kit, moment, pole)
    )


def _read_next(
    solved: ReadingsSolution,
    sigma_arcmin: tuple[float, float],
    kit: Kit,
    at: datetime,
    pole: Pole,
) -> ReadNext | None:
    observer = observer_of(kit.site)
    near = candidates(Instants.from_datetime(at), observer)
    if not len(near):
        return None
    best = next_reading(
        solved.information,
        near.hour_angle_h,
        near.declination_deg,
        sigma_arcmin,
        observer,
        pole=pole,
    )
    k = best.candidate
    side = "east" if best.side > 0 else "west"
    return ReadNext(near.names[k], float(near.hour_angle_h[k]), side, best)


def _of_frames(measurement: FramesMeasurement, kit: Kit, pole: Pole) -> FramesFinding:
    frames = measurement.frames
    solved = axis_from_frames(
        frames,
        observer_of(kit.site),
        pole=pole,
        across_sigma_arcsec=measurement.across_sigma_arcsec,
    )
    moments = middles_of(frames)
    source = ", ".join(frame.name for frame in frames)
    return FramesFinding(max(moments), source, frames, moments, solved)
