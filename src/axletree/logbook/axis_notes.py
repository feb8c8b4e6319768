"""Where is a measurement of the axis noted down, and which of those noted count?

Always as a line in a file beside the kit; and in the logbook too, if the person began one for
this evening, since the logbook learns from it what the bolts' turns are worth.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from axletree.axis.frame import Pole
from axletree.axis.state import GapNote
from axletree.axis.voids import Moved
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.site import Site
from axletree.logbook.lines import append_line, read_lines
from axletree.logbook.store import Logbook, default_logbook
from axletree.mount.learned.record import GAP, gap_of_record, gap_record
from axletree.pole.photographs.shot import Shot
from axletree.pole.picture.frame_file import Frame
from axletree.pole.readings.pointing import SolvedReadings
from axletree.pole.solution.record import (
    STANDS,
    TURNED,
    WITHDRAWN,
    Tonight,
    at_spot,
    covered,
    evening_of,
    measure_record,
    moment_of_record,
    moved_record,
    of_rig,
    row_marks,
    tonight,
    turn_record,
    with_doubts,
    withdrawal_record,
)
from axletree.sky.observer import observer_of
from axletree.stages.set_up.axis_remarks import AxisMethod
from axletree.stages.set_up.check import TurnedAnswer
from axletree.stages.set_up.check_findings import Finding, ReadingsFinding


@dataclass(frozen=True)
class Origin:
    """What a measurement was made from, to know it again: a later one with the same key, or with
    all of its rows, takes its place."""

    method: AxisMethod
    key: str
    rows: tuple[str, ...]

    @classmethod
    def of_text(cls, method: AxisMethod, text: str, key: str | None = None) -> Origin:
        """A list of rows; `key`: another one than that of its text, for a list that changes."""
        own = hashlib.sha256(f"{method}\n{text}".encode()).hexdigest()[:16]
        return cls(method, own if key is None else key, row_marks(text))

    @classmethod
    def of_frames(cls, frames: Sequence[Frame]) -> Origin:
        """Camera frames, by their names, times and coordinates."""
        lines = [f"{f.name} {f.middle.to_datetimes()[0].isoformat()} {f.wcs}" for f in frames]
        return cls.of_text(AxisMethod.FRAMES, "\n".join(lines))

    @classmethod
    def of_pictures(cls, shots: Sequence[Shot]) -> Origin:
        """Plain pictures, by their names, times and sizes."""
        lines = [f"{s.name} {s.middle.to_datetimes()[0].isoformat()} {s.grey.shape}" for s in shots]
        return cls.of_text(AxisMethod.PICTURES, "\n".join(lines))


@dataclass(frozen=True)
class Noted:
    """Where something was noted: the file, and whether in the logbook too."""

    file: Path
    in_logbook: bool


@dataclass(frozen=True)
class NotedMove:
    """What was noted as moved, None: that the mount stands where it stood; `key`: of the note."""

    moved: Moved | None
    at: datetime
    key: str


@dataclass(frozen=True)
class AxisNotes:
    """The notes of one rig on one spot in a file; '' where nobody says which rig it is."""

    file: Path
    site: Site
    rig: str = ""

    @classmethod
    def of_kit(cls, file: Path, kit: Kit) -> AxisNotes:
        """The notes of a kit. Its rig goes by names and the tube's size: another eyepiece makes
        no other rig, another tube does."""
        mount, tube = kit.mount, kit.tube
        names = kit.name, mount.name, mount.size, tube.name
        sizes = f"{tube.aperture_mm:g}/{tube.focal_length_mm:g}"
        return cls(file, kit.site, " | ".join((*names, sizes)))

    def of_this_rig(self) -> list[dict[str, Any]]:
        """All lines that say that they are of just this rig, in their order."""
        return [r for r in read_lines(self.file) if self.rig and r.get("rig") == self.rig]

    def tonight(
        self, at: datetime, pole: Pole = "refracted", without: Origin | None = None
    ) -> Tonight:
        """What counts on the evening of `at`, without what a measurement of `without` replaces."""
        records: list[Mapping[str, Any]] = list(read_lines(self.file))
        if without is not None:
            records = [
                record
                for record in records
                if record.get("key") != without.key
                and not covered(record, without.method, without.rows)
            ]
        zone = self.site.zone
        observer, rig = observer_of(self.site), self.rig or None
        return tonight(records, evening_of(at, zone), zone, observer, pole, rig)

    def note(self, finding: Finding, origin: Origin, pole: Pole = "refracted") -> Noted | None:
        """Note what a measurement says; None where it says nothing."""
        estimate = finding.estimate
        if not estimate.rank:
            return None
        record = measure_record(
            finding.method,
            finding.at,
            finding.source,
            origin.key,
            estimate,
            observer_of(self.site),
            pole,
        )
        record = {**with_doubts(record, finding.doubts), "rows": list(origin.rows)}
        if isinstance(finding, ReadingsFinding):
            record["circles"] = circles_record(finding.solved)
        self._append(record)
        covariance = estimate.covariance
        at = finding.at.astimezone(self.site.zone)
        opened = _begun_logbook(at, self.site) if covariance is not None else None
        if opened is None or covariance is None:
            return Noted(self.file, in_logbook=False)
        book, evening = opened
        with book:
            rows = covariance.tolist()
            book.add_axis_measure(
                evening,
                at,
                str(finding.method),
                estimate.high_arcmin,
                estimate.east_arcmin,
                ((rows[0][0], rows[0][1]), (rows[1][0], rows[1][1])),
                json.dumps({"source": finding.source, "key": origin.key}, ensure_ascii=False),
            )
        return Noted(self.file, in_logbook=True)

    def note_turn(self, turned: TurnedAnswer) -> Noted:
        """Note that bolts were turned."""
        turns = turned.altitude_turns, turned.azimuth_turns
        self._append(turn_record(turned.at, *turns, turned.observer))
        at = turned.at.astimezone(self.site.zone)
        opened = _begun_logbook(at, self.site) if any(turns) else None
        if opened is None:
            return Noted(self.file, in_logbook=False)
        book, evening = opened
        with book:
            book.add_bolt_turn(evening, at, *turns)
        return Noted(self.file, in_logbook=True)

    def has_turn(self, turned: TurnedAnswer) -> bool:
        """Whether this very turn is noted already."""
        at, turns = turned.at.isoformat(), (turned.altitude_turns, turned.azimuth_turns)
        return any(
            record.get("kind") == TURNED
            and record.get("at") == at
            and (record.get("altitude_turns"), record.get("azimuth_turns")) == turns
            for record in read_lines(self.file)
        )

    def withdraw(self, key: str, at: datetime) -> None:
        """Note that the measurement with this key was a mistake, if there is one."""
        if any(record.get("key") == key for record in read_lines(self.file)):
            self._append(withdrawal_record(at, key, observer_of(self.site)))

    def note_moved(self, moved: Moved | None, at: datetime, key: str | None = None) -> NotedMove:
        """Note that something was moved, None: that the mount stands where it stood.

        `key`: of a note that may be sent twice; it is noted once.
        """
        noted = NotedMove(moved, at, key or secrets.token_hex(8))
        if key is None or all(r.get("key") != key for r in read_lines(self.file)):
            self._append(moved_record(at, moved, noted.key, observer_of(self.site)))
        return noted

    def moves(self) -> list[NotedMove]:
        """What was noted as moved or standing and not taken back, in the order of noting."""
        left: dict[str, NotedMove] = {}
        for record in self.of_this_rig():
            key, what = str(record.get("key")), record.get("moved")
            if record.get("kind") == WITHDRAWN:
                left.pop(key, None)
            elif record.get("kind") == STANDS or what in tuple(Moved):
                at = moment_of_record(record)
                if at is not None:
                    moved = None if record.get("kind") == STANDS else Moved(str(what))
                    left[key] = NotedMove(moved, at, key)
        return list(left.values())

    def take_back_latest(self) -> NotedMove | None:
        """Note that what was noted last as moved or standing was a mistake; None: nothing was."""
        left = self.moves()
        if not left:
            return None
        self.withdraw(left[-1].key, left[-1].at)
        return left[-1]

    def note_gap(self, gap: GapNote) -> None:
        """Note how near parts came; one with the key of an earlier one was sent twice."""
        if any(r.get("kind") == GAP and r.get("key") == gap.key for r in self.of_this_rig()):
            return
        self._append(at_spot(gap_record(gap), observer_of(self.site)))

    def gaps(
        self, until: datetime | None = None, records: Sequence[Mapping[str, Any]] | None = None
    ) -> tuple[GapNote, ...]:
        """The gaps that were noted and not taken back, in order of time, up to a moment.

        `records`: the lines of this rig, where they have been read already.
        """
        left: dict[str, GapNote] = {}
        for record in self.of_this_rig() if records is None else records:
            at = moment_of_record(record)
            if record.get("kind") == WITHDRAWN:
                left.pop(str(record.get("key")), None)
            elif at is not None and (until is None or at <= until):
                found = gap_of_record(record, at, evening_of(at, self.site.zone))
                if found is not None:
                    left[found.key] = found
        return tuple(sorted(left.values(), key=lambda one: one.at))

    def take_back_gap(self, key: str | None = None) -> GapNote | None:
        """Note that a gap, the latest or that with this key, was a mistake; None: there is none."""
        every = [one for one in self.gaps() if key in (None, one.key)]
        if not every:
            return None
        self.withdraw(every[-1].key, every[-1].at)
        return every[-1]

    def note_bolts(self, at: datetime, turns: tuple[float, float]) -> None:
        """Note turns of the bolts that the logbook was told, where there is something to void."""
        if self.file.is_file():
            self._append(turn_record(at, *turns, observer_of(self.site)))

    def _append(self, record: Mapping[str, Any]) -> None:
        append_line(self.file, of_rig(record, self.rig) if self.rig else record)


def circles_record(solved: SolvedReadings) -> dict[str, Any]:
    """All six figures of a solution as a note keeps them."""
    return {
        "values_arcmin": solved.values.tolist(),
        "information_per_arcmin2": solved.information.tolist(),
        "assumed": list(solved.assumed),
        "widened": solved.widened,
    }


def _begun_logbook(at: datetime, site: Site) -> tuple[Logbook, int] | None:
    """The logbook and the number of this moment's evening at this site, if there are such."""
    from axletree.logbook.read import evening_of_date

    path = default_logbook()
    if not path.is_file():
        return None
    book = Logbook(path)
    evening = evening_of_date(book, evening_of(at, site.zone), site)
    if evening is None:
        book.close()
        return None
    return book, evening
