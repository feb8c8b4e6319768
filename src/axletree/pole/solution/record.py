"""Which measurements of tonight count, and which came before a bolt was turned?

A record is a plain mapping (one line of the log). Only those of the same evening and the same
spot count; a later record with the same key replaces an earlier one, so that a file read twice
doesn't count twice, and may take it back. So does one that holds all rows of the earlier: a list
to which a star was added.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.pole.solution.doubt import Doubt, doubt_of, doubt_record
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

MEASURED, TURNED, WITHDRAWN = "axis measured", "bolts turned", "measurement withdrawn"
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


def evening_of(at: datetime, zone: ZoneInfo) -> date:
    """The date on which the evening of this moment began: nights run from noon to noon."""
    return (at.astimezone(zone) - timedelta(hours=12)).date()


def tonight(
    records: Iterable[Mapping[str, Any]],
    evening: date,
    zone: ZoneInfo,
    observer: Observer,
    pole: Pole = "refracted",
) -> Tonight:
    """The measurements that count on this evening at this spot; other records are passed over."""
    measured: dict[str, tuple[datetime, Measured, Mapping[str, Any]]] = {}
    turns: list[tuple[datetime, float, float]] = []
    for record in records:
        at = _moment(record)
        if at is None or evening_of(at, zone) != evening or not _here(record, observer):
            continue
        if record.get("kind") == TURNED:
            turned = [_finite(record.get(f"{b}_turns")) or 0.0 for b in ("altitude", "azimuth")]
            turns.append((at, turned[0], turned[1]))
        elif record.get("kind") == WITHDRAWN:
            measured.pop(str(record.get("key")), None)
        elif record.get("kind") == MEASURED:
            found = _measured(record, at, observer, pole)
            if found is not None:
                noted = record.get("rows")
                marks = [str(mark) for mark in noted] if isinstance(noted, list) else []
                for key in [k for k, m in measured.items() if covered(m[2], found.method, marks)]:
                    del measured[key]
                measured[str(record.get("key"))] = (at, found, record)
    turns.sort()
    last = turns[-1] if turns else None
    ordered = [m for _, m, _ in sorted(measured.values(), key=lambda entry: entry[0])]
    since = tuple(m for m in ordered if last is None or m.at > last[0])
    return Tonight(
        since_turn=since,
        last_turn=last[0] if last else None,
        before_turn=len(ordered) - len(since),
        turns=(last[1], last[2]) if last else (0.0, 0.0),
    )


def _moment(record: Mapping[str, Any]) -> datetime | None:
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
