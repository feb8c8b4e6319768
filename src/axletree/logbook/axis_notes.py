"""Where is a measurement of the axis noted down, and which of those noted count?

Always as a line in a file beside the kit; and in the logbook too, if the person began one for
this evening, since the logbook learns from it what the bolts' turns are worth.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from axletree.axis.frame import Pole
from axletree.kit.parts.site import Site
from axletree.logbook.lines import append_line, read_lines
from axletree.logbook.store import Logbook, default_logbook
from axletree.pole.picture.frame_file import Frame
from axletree.pole.solution.record import (
    TURNED,
    Tonight,
    covered,
    evening_of,
    measure_record,
    row_marks,
    tonight,
    turn_record,
    with_doubts,
    withdrawal_record,
)
from axletree.sky.observer import observer_of
from axletree.stages.set_up.check import TurnedAnswer
from axletree.stages.set_up.check_findings import AxisMethod, Finding


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


@dataclass(frozen=True)
class Noted:
    """Where something was noted: the file, and whether in the logbook too."""

    file: Path
    in_logbook: bool


@dataclass(frozen=True)
class AxisNotes:
    """The notes of one spot in a file."""

    file: Path
    site: Site

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
        return tonight(records, evening_of(at, zone), zone, observer_of(self.site), pole)

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
        record = with_doubts(record, finding.doubts)
        append_line(self.file, {**record, "rows": list(origin.rows)})
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
        append_line(self.file, turn_record(turned.at, *turns, turned.observer))
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
            append_line(self.file, withdrawal_record(at, key, observer_of(self.site)))


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
