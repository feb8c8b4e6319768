"""Which measurements of tonight count, and which came before a bolt was turned?

A record is a plain mapping (one line of the log). Only those of the same evening and the same
spot count; a later record with the same key replaces an earlier one, so that a file read twice
doesn't count twice, and may take it back. So does one that holds all rows of the earlier: a list
to which a star was added.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.axis.unknowns import ModelPart
from axletree.axis.voids import Moved
from axletree.kit.frozen import dataclass
from axletree.pole.solution.doubt import Doubt, doubt_of, doubt_record
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

MEASURED, TURNED, WITHDRAWN = "axis measured", "bolts turned", "measurement withdrawn"
MOVED, STANDS = "something moved", "mount stands"
_SAME_SPOT_DEG = 0.02
_MOST_MARKED = 500


@dataclass(frozen=True)
class Measured:
    """One measurement: its method, when, what it was made from, what it says, what is doubtful."""

    method: str
    at: datetime
    source: str
    estimate: AxisEstimate
    doubts: tuple[Doubt, ...] = ()


@dataclass(frozen=True)
class Tonight:
    """Measurements since the last turn of a bolt, in order of time; how many came before it."""

    since_turn: tuple[Measured, ...]
    last_turn: datetime | None
    before_turn: int
    turns: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class MovedThen:
    """Something was moved; of bolts how far, clockwise positive, 0 where nobody counted."""

    at: datetime
    moved: Moved
    turns: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class EveningNotes:
    """What was noted on one evening and counts, each in order of time.

    `records` are the lines of `measured`, one for one. `stands` is when the person said that the
    mount stands where it stood, None if never.
    """

    measured: tuple[Measured, ...]
    records: tuple[Mapping[str, Any], ...]
    moved: tuple[MovedThen, ...]
    stands: datetime | None


def measure_record(
    method: str,
    at: datetime,
    source: str,
    key: str,
    estimate: AxisEstimate,
    observer: Observer,
    pole: Pole,
) -> dict[str, Any]:
    """The record of a measurement, to be kept as one line."""
    return {
        "kind": MEASURED,
        "method": method,
        "at": at.isoformat(),
        "source": source,
        "key": key,
        "latitude_deg": observer.latitude_deg,
        "longitude_deg": observer.longitude_deg,
        "pole_altitude_deg": pole_altitude_deg(observer, pole),
        "high_arcmin": estimate.high_arcmin,
        "east_arcmin": estimate.east_arcmin,
        "information_per_arcmin2": estimate.information.tolist(),
    }


def with_doubts(record: Mapping[str, Any], doubts: Iterable[Doubt]) -> dict[str, Any]:
    """The record of a measurement with what is doubtful in it."""
    return {**record, "doubts": [doubt_record(doubt) for doubt in doubts]}


def row_marks(text: str) -> tuple[str, ...]:
    """A short mark of each line that a measurement was made from; none of a very long list."""
    lines = [line.strip() for line in text.splitlines()]
    lines = [line for line in lines if line and not line.startswith("#")]
    if len(lines) > _MOST_MARKED:
        return ()
    return tuple(hashlib.sha256(line.encode()).hexdigest()[:12] for line in lines)


def covered(record: Mapping[str, Any], method: str, marks: Iterable[str]) -> bool:
    """Whether a noted measurement lies whole within another one of this method: the same list,
    to which a star was added since."""
    noted = record.get("rows")
    if record.get("method") != method or not isinstance(noted, list) or not noted:
        return False
    return {str(mark) for mark in noted} <= set(marks)


def turn_record(
    at: datetime, altitude_turns: float, azimuth_turns: float, observer: Observer
) -> dict[str, Any]:
    """The record of a turn of the bolts, signed as `pole.bolts` signs them."""
    return {
        "kind": TURNED,
        "at": at.isoformat(),
        "latitude_deg": observer.latitude_deg,
        "longitude_deg": observer.longitude_deg,
        "altitude_turns": altitude_turns,
        "azimuth_turns": azimuth_turns,
    }


def withdrawal_record(at: datetime, key: str, observer: Observer) -> dict[str, Any]:
    """The record that a measurement was a mistake: the one with this key doesn't count."""
    return {
        "kind": WITHDRAWN,
        "at": at.isoformat(),
        "key": key,
        "latitude_deg": observer.latitude_deg,
        "longitude_deg": observer.longitude_deg,
    }


def moved_record(at: datetime, moved: Moved | None, key: str, observer: Observer) -> dict[str, Any]:
    """The record that something was moved; None: that the mount stands where it stood."""
    return {
        "kind": STANDS if moved is None else MOVED,
        "at": at.isoformat(),
        "key": key,
        "latitude_deg": observer.latitude_deg,
        "longitude_deg": observer.longitude_deg,
        **({} if moved is None else {"moved": moved.value}),
    }


def at_spot(record: Mapping[str, Any], observer: Observer) -> dict[str, Any]:
    """The record with the spot that it was made on."""
    spot = {"latitude_deg": observer.latitude_deg, "longitude_deg": observer.longitude_deg}
    return {**record, **spot}


def of_rig(record: Mapping[str, Any], rig: str) -> dict[str, Any]:
    """The record with the rig that it is about, so that it never counts for another."""
    return {**record, "rig": rig}


def evening_of(at: datetime, zone: ZoneInfo) -> date:
    """The date on which the evening of this moment began: nights run from noon to noon."""
    return (at.astimezone(zone) - timedelta(hours=12)).date()


def tonight(
    records: Iterable[Mapping[str, Any]],
    evening: date,
    zone: ZoneInfo,
    observer: Observer,
    pole: Pole = "refracted",
    rig: str | None = None,
) -> Tonight:
    """The measurements that count on this evening at this spot; other records are passed over.

    So are those that say that they are of another `rig`.
    """
    here = [r for r in records if rig is None or r.get("rig") in (None, rig)]
    found = evening_notes(here, evening, zone, observer, pole)
    turns = [one for one in found.moved if one.moved.voids is ModelPart.AXIS]
    last = turns[-1] if turns else None
    since = tuple(m for m in found.measured if last is None or m.at > last.at)
    return Tonight(
        since_turn=since,
        last_turn=last.at if last else None,
        before_turn=len(found.measured) - len(since),
        turns=last.turns if last else (0.0, 0.0),
    )


def evening_notes(
    records: Iterable[Mapping[str, Any]],
    evening: date,
    zone: ZoneInfo,
    observer: Observer,
    pole: Pole = "refracted",
) -> EveningNotes:
    """What counts of the records of one evening at this spot; others are passed over."""
    measured: dict[str, tuple[Measured, Mapping[str, Any]]] = {}
    moved: dict[str, MovedThen] = {}
    stands: dict[str, datetime] = {}
    for place, record in enumerate(records):
        at = moment_of_record(record)
        if at is None or evening_of(at, zone) != evening or not _here(record, observer):
            continue
        key, kind = str(record.get("key")), record.get("kind")
        if kind == TURNED:
            turned = [_finite(record.get(f"{b}_turns")) or 0.0 for b in ("altitude", "azimuth")]
            moved[f"line {place}"] = MovedThen(at, Moved.BOLT, (turned[0], turned[1]))
        elif kind == MOVED and record.get("moved") in tuple(Moved):
            moved[key] = MovedThen(at, Moved(record["moved"]))
        elif kind == STANDS:
            stands[key] = at
        elif kind == WITHDRAWN:
            for kept in (measured, moved, stands):
                kept.pop(key, None)
        elif kind == MEASURED:
            found = _measured(record, at, observer, pole)
            if found is not None:
                noted = record.get("rows")
                marks = [str(mark) for mark in noted] if isinstance(noted, list) else []
                gone = [k for k, m in measured.items() if covered(m[1], found.method, marks)]
                for k in gone:
                    del measured[k]
                measured[key] = found, record
    ordered = sorted(measured.values(), key=lambda entry: entry[0].at)
    return EveningNotes(
        measured=tuple(m for m, _ in ordered),
        records=tuple(r for _, r in ordered),
        moved=tuple(sorted(moved.values(), key=lambda one: (one.at, one.turns))),
        stands=max(stands.values(), default=None),
    )


def moment_of_record(record: Mapping[str, Any]) -> datetime | None:
    """When a record was made; None where it says no moment, or one that nobody can mean."""
    try:
        at = datetime.fromisoformat(str(record.get("at")))
    except ValueError:
        return None
    return at if at.tzinfo is not None and 1900 < at.year < 2200 else None


def _finite(value: object, most: float = 1e9) -> float | None:
    """A plain number of a record, None where something else was written there."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not abs(value) <= most:
        return None
    return float(value)


def _here(record: Mapping[str, Any], observer: Observer) -> bool:
    latitude = _finite(record.get("latitude_deg"), 90.0)
    longitude = _finite(record.get("longitude_deg"), 360.0)
    if latitude is None or longitude is None:
        return False
    off_lon = (longitude - observer.longitude_deg + 180.0) % 360.0 - 180.0
    return abs(latitude - observer.latitude_deg) < _SAME_SPOT_DEG and abs(off_lon) < _SAME_SPOT_DEG


def _measured(
    record: Mapping[str, Any], at: datetime, observer: Observer, pole: Pole
) -> Measured | None:
    try:
        information = np.array(record.get("information_per_arcmin2"), dtype=np.float64)
    except (TypeError, ValueError, OverflowError):
        return None
    high, east = _finite(record.get("high_arcmin")), _finite(record.get("east_arcmin"))
    altitude = _finite(record.get("pole_altitude_deg"), 90.0)
    if high is None or east is None or altitude is None:
        return None
    if information.shape != (2, 2) or not np.all(np.abs(information) < 1e12):
        return None
    if np.linalg.eigvalsh(0.5 * (information + information.T))[0] < -1e-9:
        return None
    # The same axis is higher above a lower pole.
    high += (altitude - pole_altitude_deg(observer, pole)) * 60.0
    return Measured(
        method=str(record.get("method", "")),
        at=at,
        source=str(record.get("source", "")),
        estimate=AxisEstimate(high, east, 0.5 * (information + information.T)),
        doubts=_doubts(record),
    )


def _doubts(record: Mapping[str, Any]) -> tuple[Doubt, ...]:
    noted = record.get("doubts")
    found = [doubt_of(entry) for entry in noted] if isinstance(noted, list) else []
    return tuple(doubt for doubt in found if doubt is not None)
