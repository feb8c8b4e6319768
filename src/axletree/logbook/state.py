"""What do the notes of one rig say of its mount, up to a moment?

The notes are gone through in order: a measurement adds to what is known, what was moved voids its
part. A new evening voids the axis, unless the person said that the mount stands where it stood.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

import numpy as np

from axletree.axis.frame import Pole
from axletree.axis.model import Known, KnownBy, PointingModel, carried_pole_deg, unmeasured
from axletree.axis.state import State
from axletree.axis.unknowns import EAST, HIGH, UNKNOWNS, ModelPart
from axletree.axis.voids import Moved, void
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.logbook.axis_notes import AxisNotes
from axletree.pole.readings.pointing import NotedReadings, circles_told, with_axis, with_readings
from axletree.pole.solution.combine import combine
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import (
    EveningNotes,
    Measured,
    MovedThen,
    evening_notes,
    evening_of,
)
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import as_set_arcmin

# Wide enough to have no say in faults that a note tells of.
_ANY_FAULT_ARCMIN = 3000.0


def state_of(
    notes: AxisNotes, kit: Kit, at: datetime, kit_folder: Path | None = None,
    pole: Pole = "refracted",
) -> State | None:  # fmt: skip
    """What is known of this rig at `at`; None where nothing was noted of it on this spot."""
    noted = notes.of_this_rig()
    records = [r for r in noted if _until(r, at)]
    zone, observer = kit.site.zone, observer_of(kit.site)
    evenings = sorted({evening_of(datetime.fromisoformat(r["at"]), zone) for r in records})
    whole = [(day, evening_notes(records, day, zone, observer, pole)) for day in evenings]
    whole = [(day, found) for day, found in whole if _moments(found)]
    gaps = notes.gaps(at, noted)
    if not whole and not gaps:
        return None
    mount = _Mount(as_set_arcmin(kit, at, kit_folder), carried_pole_deg(observer, pole))
    model = unmeasured(*mount.set_arcmin, pole_altitude_deg=mount.pole_altitude_deg, pole=pole)
    since: date | None = None
    set_up: date | None = None
    for day, found in whole:
        set_up = set_up if found.stands is not None and set_up is not None else day
        since = since if found.stands is not None else None
        if since is None:
            model = mount.set_up_again(model)
        model = _evening(model, found, mount)
        if since is None and model.known_of(ModelPart.AXIS).by is KnownBy.MEASURED:
            since = day
    today = evening_of(at, zone)
    if not whole:
        return State(model, gaps[-1].evening, gaps[-1].at, 0, None, gaps, today, False)
    last, found = whole[-1]
    if last != today:
        model, since, set_up = mount.set_up_again(model), None, today
    stands = since if since is not None and since != today else None
    count = len(found.measured)
    return State(model, last, max(_moments(found)), count, stands, gaps, set_up)


@dataclass(frozen=True)
class _Mount:
    """How well its axis is set, high and east in arcminutes, and how high it points.

    The altitude is None where a head that turns about the vertical doesn't carry the axis along.
    """

    set_arcmin: tuple[float, float]
    pole_altitude_deg: float | None

    def moved(self, model: PointingModel, one: MovedThen) -> PointingModel:
        """The model after something was moved."""
        return void(
            model, one.moved, one.at, axis_sigma_arcmin=self.set_arcmin,
            pole_altitude_deg=self.pole_altitude_deg,
        )  # fmt: skip

    def set_up_again(self, model: PointingModel) -> PointingModel:
        """The model on another evening: the axis as well as it was set, nobody looked yet."""
        known = model.known_of(ModelPart.AXIS)
        fresh = self.moved(model, MovedThen(known.at or _LONG_AGO, Moved.TRIPOD))
        as_set = Known(ModelPart.AXIS, KnownBy.SET, None)
        return fresh.with_values(fresh.values, fresh.covariance, as_set)

    def unknown_axis(self, model: PointingModel, at: datetime) -> PointingModel:
        """The model without any opinion of the axis, for a measurement that needs none."""
        return void(model, Moved.TRIPOD, at, pole_altitude_deg=self.pole_altitude_deg)


_LONG_AGO = datetime.fromisoformat("1900-01-01T00:00+00:00")


def _evening(model: PointingModel, found: EveningNotes, mount: _Mount) -> PointingModel:
    """The model after an evening: its measurements since each move of the axis taken together."""
    axis_moves = [m for m in found.moved if m.moved.voids is ModelPart.AXIS]
    other_moves = [m for m in found.moved if m.moved.voids is not ModelPart.AXIS]
    notes = list(zip(found.measured, found.records, strict=True))
    for move, until in zip([None, *axis_moves], [*axis_moves, None], strict=True):
        if move is not None:
            model = mount.moved(model, move)

        def inside(at: datetime, after: MovedThen | None = move,
                   before: MovedThen | None = until) -> bool:  # fmt: skip
            return (after is None or at > after.at) and (before is None or at <= before.at)

        model = _together(
            model, [note for note in notes if inside(note[0].at)],
            [one for one in other_moves if inside(one.at)], mount,
        )  # fmt: skip
    return model


def _together(
    model: PointingModel,
    measured: list[tuple[Measured, Mapping[str, Any]]],
    others: Iterable[MovedThen],
    mount: _Mount,
) -> PointingModel:
    """The model with measurements of one axis, as `check` weighs them, and other parts moved."""
    used: Sequence[int] = ()
    widened = 1.0
    if measured and any(m.estimate.rank for m, _ in measured):
        all_ = combine([m.estimate for m, _ in measured])
        used, widened = all_.used, all_.widened
        known = model.known_of(ModelPart.AXIS).by
        if all_.estimate.rank == 2 and known is not KnownBy.MEASURED:
            model = mount.unknown_axis(model, measured[0][0].at)
    steps: list[tuple[datetime, MovedThen | int]] = [(one.at, one) for one in others]
    steps += [(measured[k][0].at, k) for k in used]
    for _, step in sorted(steps, key=lambda s: s[0]):
        if isinstance(step, MovedThen):
            model = mount.moved(model, step)
            continue
        one, record = measured[step]
        noted = _noted_readings(record, one)
        if noted is None:
            less = AxisEstimate(
                one.estimate.high_arcmin, one.estimate.east_arcmin,
                one.estimate.information / widened**2,
            )  # fmt: skip
            model = with_axis(model, less, one.at)
            continue
        # Each list tells of its circles alone: nobody says whether they were set in between.
        for circle in circles_told(noted):
            model = void(model, circle, one.at)
        model = _with_noted(model, noted.widened_by(widened), one.at)
    return model


def _with_noted(model: PointingModel, noted: NotedReadings, at: datetime) -> PointingModel:
    """The model with all six figures of a note, just as `check` told them where they are the
    first: the faults that it had to assume are part of the note then, and nothing else of them."""
    faults = ModelPart.CONE, ModelPart.LEAN
    if any(model.known_of(part).by is KnownBy.MEASURED for part in faults):
        return with_readings(model, noted, at)
    places = [part.places[0] for part in faults]
    covariance, values = model.covariance, model.values
    covariance[places, :] = covariance[:, places] = 0.0
    covariance[places, places] = _ANY_FAULT_ARCMIN**2
    values[places] = 0.0
    told = with_readings(model.with_values(values, covariance), replace(noted, assumed=()), at)
    usual = [Known(p, KnownBy.USUAL, None) for p in faults if p.value in noted.assumed]
    return told.with_values(told.values, told.covariance, *usual)


def _noted_readings(record: Mapping[str, Any], one: Measured) -> NotedReadings | None:
    """The six figures of a note; None where it has none, or such as no solution has."""
    noted = record.get("circles")
    if not isinstance(noted, dict):
        return None
    size = len(UNKNOWNS)
    try:
        values = np.array(noted["values_arcmin"], dtype=np.float64)
        information = np.array(noted["information_per_arcmin2"], dtype=np.float64)
        widened, assumed = float(noted["widened"]), tuple(str(a) for a in noted["assumed"])
    except (KeyError, TypeError, ValueError, OverflowError):
        return None
    if values.shape != (size,) or information.shape != (size, size) or not widened >= 1.0:
        return None
    if not (np.isfinite(values).all() and np.all(np.abs(information) < 1e12)):
        return None
    information = 0.5 * (information + information.T)
    if np.linalg.eigvalsh(information)[0] < -1e-9:
        return None
    if one.estimate.rank == 2:
        # Counted from the pole of today, as the note of the axis alone already is.
        values[[HIGH, EAST]] = one.estimate.values
    return NotedReadings(values, information, assumed, widened)


def _until(record: Mapping[str, Any], at: datetime) -> bool:
    """Whether a note has a moment, and that isn't later."""
    try:
        when = datetime.fromisoformat(str(record.get("at")))
        return when.tzinfo is not None and 1900 < when.year < 2200 and when <= at
    except ValueError:
        return False


def _moments(found: EveningNotes) -> list[datetime]:
    stands = [] if found.stands is None else [found.stands]
    return [*(m.at for m in found.measured), *(m.at for m in found.moved), *stands]
