"""What was written down of an evening: stops, remarks, the sky, the axis, turns of the bolts?

Public: ``evening_record`` -> ``EveningRecord`` of entries in the order of time; ``add_entry``,
``begin_evening``: one typed request in, one frozen answer out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date, datetime
from enum import Enum
from typing import Any

import numpy as np

from axletree.find.practice.learned import FoundBy
from axletree.find.practice.rig_work import RigWork
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.logbook.read import evening_whole, seconds_of
from axletree.logbook.store import Logbook, LoggedStop
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.time.parse import tonight


class EntryKind(Enum):
    """What is written down by hand."""

    DONE = "done"
    SKIPPED = "skipped"
    NOTE = "note"
    SKY = "sky"
    BOLT = "bolt"
    FOUND = "found"
    MISSED = "missed"
    SET_UP = "set-up"
    TAKE_DOWN = "take-down"


WORK_OF = {EntryKind.SET_UP: RigWork.SET_UP, EntryKind.TAKE_DOWN: RigWork.TAKE_DOWN}


@dataclass(frozen=True)
class StopEntry:
    """A stop that was shown, or `done` false: skipped."""

    uid: str
    at: str
    name: str
    catalogue_id: str
    done: bool
    visitors: int | None
    note: str


@dataclass(frozen=True)
class NoteEntry:
    """A remark in the person's own words."""

    uid: str
    at: str
    text: str


@dataclass(frozen=True)
class SkyEntry:
    """Seeing and darkness as found; None for what was not."""

    uid: str
    at: str
    seeing_arcsec: float | None
    sky_brightness_mag_arcsec2: float | None
    naked_eye_limit_mag: float | None
    words: str


@dataclass(frozen=True)
class AxisEntry:
    """A measurement of the axis error; the error of the whole is None where it isn't known."""

    uid: str
    at: str
    method: str
    high_arcmin: float
    high_sigma_arcmin: float
    east_arcmin: float
    east_sigma_arcmin: float
    total_sigma_arcmin: float | None

    @property
    def total_arcmin(self) -> float:
        """The distance of the axis from the pole."""
        return math.hypot(self.high_arcmin, self.east_arcmin)


@dataclass(frozen=True)
class BoltEntry:
    """Turns of the bolts, clockwise positive."""

    uid: str
    at: str
    altitude_turns: float
    azimuth_turns: float
    note: str


@dataclass(frozen=True)
class FoundEntry:
    """How an object was looked for: the ways in their order, whether the last led there, minutes
    in all, and the chance reckoned for the first; None for what nobody noted."""

    uid: str
    at: str
    name: str
    catalogue_id: str
    ways: tuple[str, ...]
    found: bool
    minutes: float | None
    chance: float | None


@dataclass(frozen=True)
class WorkEntry:
    """How many minutes setting up (`set_up`) or taking down (`take_down`) took."""

    uid: str
    at: str
    work: str
    minutes: float


Entry = StopEntry | NoteEntry | SkyEntry | AxisEntry | BoltEntry | FoundEntry | WorkEntry


@dataclass(frozen=True)
class EveningRecord:
    """One evening: `rows` are its tables as they are kept, `entries` the same in order of time."""

    number: int
    rows: Mapping[str, Any]
    entries: tuple[Entry, ...]


def evening_record(book: Logbook, number: int) -> EveningRecord:
    """One evening with everything in it; refuses an unknown number."""
    whole = evening_whole(book, number)
    entries: list[Entry] = [
        StopEntry(
            uid=r["uid"],
            at=r["at"],
            name=r["object"],
            catalogue_id=r["catalogue_id"],
            done=r["state"] == "done",
            visitors=r["visitors"],
            note=r["note"],
        )
        for r in whole["stop"]
    ]
    entries += [NoteEntry(r["uid"], r["at"], r["text"]) for r in whole["note"]]
    entries += [SkyEntry(**row) for row in whole["conditions"]]
    entries += [_axis(row) for row in whole["axis_measure"]]
    entries += [BoltEntry(**row) for row in whole["bolt_turn"]]
    entries += [found_entry(row) for row in whole["found"]]
    entries += [WorkEntry(**row) for row in whole["rig_work"]]
    # By the moment, not by its text: in a night in which clocks change these differ.
    entries.sort(key=lambda entry: seconds_of(entry.at))
    return EveningRecord(number, whole, tuple(entries))


def found_entry(row: Mapping[str, Any]) -> FoundEntry:
    """A row of the finds as it is told."""
    return FoundEntry(
        row["uid"], row["at"], row["object"], row["catalogue_id"], tuple(row["ways"].split(",")),
        bool(row["found"]), row["minutes"], row["chance"],
    )  # fmt: skip


def _axis(row: Mapping[str, Any]) -> AxisEntry:
    high, east, between = (
        row["high_variance_arcmin2"], row["east_variance_arcmin2"], row["covariance_arcmin2"],
    )  # fmt: skip
    covariance = np.array([[high, between], [between, east]])
    total_sigma = None
    if np.linalg.det(covariance) > 0.0:
        error = row["high_arcmin"], row["east_arcmin"]
        total_sigma = float(AxisEstimate(*error, np.linalg.inv(covariance)).total_sigma_arcmin)
    return AxisEntry(
        row["uid"], row["at"], row["method"], row["high_arcmin"], high**0.5, row["east_arcmin"],
        east**0.5, total_sigma,
    )  # fmt: skip


@dataclass(frozen=True)
class BegunEvening:
    """An evening that was begun: its number, date and place."""

    number: int
    day: date
    site_name: str


def begin_evening(book: Logbook, kit: Kit, kit_toml: str, at: datetime) -> BegunEvening:
    """Begin the evening of a moment with the kit as it is."""
    at = at.astimezone(kit.site.zone)
    day = tonight(at)
    number = book.begin_evening(day, kit, kit_toml, at)
    return BegunEvening(number, day, kit.site.name)


@dataclass(frozen=True)
class EntryRequest:
    """Something to write down for an evening, at an aware moment.

    A stop has `name` and `catalogue_id`; `words` are a remark, or the sky's; turns are clockwise
    positive. `ways` are those tried for an object that was found or missed, in order, `chance` what
    was reckoned for the first. `minutes` that a find, setting up or taking down took. Refuses a
    request that says nothing.
    """

    kind: EntryKind
    evening: int
    at: datetime
    name: str = ""
    catalogue_id: str = ""
    visitors: int | None = None
    words: str = ""
    note: str = ""
    seeing_arcsec: float | None = None
    sky_brightness_mag_arcsec2: float | None = None
    naked_eye_limit_mag: float | None = None
    altitude_turns: float = 0.0
    azimuth_turns: float = 0.0
    ways: tuple[FoundBy, ...] = ()
    minutes: float | None = None
    chance: float | None = None
    uid: str | None = None

    def __post_init__(self) -> None:
        if self.kind in (EntryKind.DONE, EntryKind.SKIPPED) and not self.name:
            raise AxletreeError("a stop needs its object's name")
        if self.kind is EntryKind.NOTE and not self.words:
            raise AxletreeError("there is nothing to write down yet")
        figures = self.seeing_arcsec, self.sky_brightness_mag_arcsec2, self.naked_eye_limit_mag
        if self.kind is EntryKind.SKY and not self.words and all(f is None for f in figures):
            raise AxletreeError("give at least one figure, or say it in words")
        if self.kind is EntryKind.BOLT and not self.altitude_turns and not self.azimuth_turns:
            raise AxletreeError("no bolt was turned")
        if self.kind in (EntryKind.FOUND, EntryKind.MISSED) and not (self.name and self.ways):
            raise AxletreeError("a find needs its object's name and by what it was looked for")
        if self.kind in WORK_OF and self.minutes is None:
            raise AxletreeError("say how many minutes that took")


@dataclass(frozen=True)
class AddedEntry:
    """What was written down, in which row."""

    request: EntryRequest
    row: int


def add_entry(book: Logbook, request: EntryRequest) -> AddedEntry:
    """Write it down; it is on the disk when this returns."""
    evening, at, uid = request.evening, request.at, request.uid
    if request.kind in (EntryKind.DONE, EntryKind.SKIPPED):
        done = request.kind is EntryKind.DONE
        stop = LoggedStop(
            at, request.name, request.catalogue_id, done, request.visitors, request.note, uid
        )  # fmt: skip
        row = book.add_stop(evening, stop)
    elif request.kind is EntryKind.NOTE:
        row = book.add_note(evening, at, request.words, uid=uid)
    elif request.kind is EntryKind.SKY:
        row = book.add_conditions(
            evening, at, seeing_arcsec=request.seeing_arcsec,
            sky_brightness_mag_arcsec2=request.sky_brightness_mag_arcsec2,
            naked_eye_limit_mag=request.naked_eye_limit_mag, words=request.words, uid=uid,
        )  # fmt: skip
    elif request.kind in (EntryKind.FOUND, EntryKind.MISSED):
        row = book.insert(
            "found",
            {"uid": uid, "evening_id": evening, "at": at.isoformat(), "object": request.name,
             "catalogue_id": request.catalogue_id, "ways": ",".join(request.ways),
             "found": int(request.kind is EntryKind.FOUND), "minutes": request.minutes,
             "chance": request.chance},
        )  # fmt: skip
    elif request.kind in WORK_OF:
        row = book.insert(
            "rig_work",
            {"uid": uid, "evening_id": evening, "at": at.isoformat(),
             "work": WORK_OF[request.kind].value, "minutes": request.minutes},
        )  # fmt: skip
    else:
        turns = request.altitude_turns, request.azimuth_turns
        row = book.add_bolt_turn(evening, at, *turns, request.note)
    return AddedEntry(request, row)
