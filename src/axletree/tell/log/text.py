"""In which sentences is the record told?"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

from axletree.axis.voids import Moved
from axletree.logbook.axis_notes import NotedMove
from axletree.logbook.entries import (
    AddedEntry,
    AxisEntry,
    BegunEvening,
    Entry,
    EntryKind,
    EveningRecord,
    FoundEntry,
    NoteEntry,
    SkyEntry,
    StopEntry,
    WorkEntry,
)
from axletree.logbook.learned import BoltsAnswer, TurnsPerDegree
from axletree.logbook.read import EveningLine, Found
from axletree.tell.shared.words import bar, day_and_clock, day_words


def evenings_text(found: Sequence[EveningLine], file: Path) -> str:
    """Every evening on a line of its own."""
    if not found:
        return f"The logbook {file} is empty; 'axletree log begin' begins an evening."
    return "\n".join(
        f"{e.id:>4}  {day_words(e.date):<17}  {e.site[:40]}: "
        f"{e.done} shown, {e.skipped} skipped, {e.notes} notes"
        for e in found
    )


def begun_text(begun: BegunEvening) -> str:
    """That an evening was begun."""
    return f"Evening {begun.number} begun: {day_words(begun.day)}, {begun.site_name}."


def added_text(added: AddedEntry) -> str:
    """What was written down."""
    request = added.request
    said = {
        EntryKind.DONE: f"{request.name} shown",
        EntryKind.SKIPPED: f"{request.name} skipped",
        EntryKind.NOTE: "noted",
        EntryKind.SKY: "sky noted",
        EntryKind.BOLT: "bolt turn noted",
        EntryKind.FOUND: f"{request.name} found by {_then(request.ways)}",
        EntryKind.MISSED: f"{request.name} not found by {_then(request.ways)}",
        EntryKind.SET_UP: f"set up in {request.minutes or 0.0:g} minutes",
        EntryKind.TAKE_DOWN: f"taken down in {request.minutes or 0.0:g} minutes",
    }[request.kind]
    return f"Evening {request.evening}: {said}."


_MOVED = {
    Moved.BOLT: "A bolt was turned: the axis as it was measured counts no more.",
    Moved.TRIPOD: "The tripod moved: the axis as it was measured counts no more.",
    Moved.HOUR_CIRCLE: "The hour circle was set: its own error counts no more.",
    Moved.DECLINATION_CIRCLE: "The declination circle was set: its own error counts no more.",
    Moved.TUBE: "The tube was clamped again: its cone counts no more.",
    None: "The mount stands where it stood: what was known of its axis counts tonight too.",
}


def moved_text(noted: NotedMove, file: Path) -> str:
    """What was moved, what that voids, and where it is noted."""
    return f"{_MOVED[noted.moved]} Noted in {file}."


def taken_back_text(noted: NotedMove, zone: ZoneInfo) -> str:
    """Which note was taken back."""
    when = day_and_clock(noted.at, zone)
    return f"Taken back, as noted for {when}: {_MOVED[noted.moved]}"


def find_taken_back_text(gone: FoundEntry) -> str:
    """Which find was taken back."""
    return f"Taken back: {entry_words(gone)}."


def _then(ways: Sequence[str]) -> str:
    """Ways in their order."""
    return ", then ".join(ways)


def record_text(record: EveningRecord) -> str:
    """One evening, an entry a line."""
    rows = record.rows
    lines = [
        f"Evening {record.number}: {day_words(rows['date'])}, {rows['site']} ({rows['kit_name']})"
    ]
    lines += [f"  {entry.at[11:16]}  {entry_words(entry)}" for entry in record.entries]
    return "\n".join(lines)


def entry_words(entry: Entry) -> str:
    """One entry without its time."""
    if isinstance(entry, StopEntry):
        state = "done" if entry.done else "skipped"
        seen = "" if entry.visitors is None else f", {entry.visitors} looked"
        return f"{entry.name} {state}{seen}" + (f": {entry.note}" if entry.note else "")
    if isinstance(entry, NoteEntry):
        return entry.text
    if isinstance(entry, SkyEntry):
        seeing, dark = entry.seeing_arcsec, entry.sky_brightness_mag_arcsec2
        faintest = entry.naked_eye_limit_mag
        facts = [
            f"seeing {seeing:g}″" if seeing else "",
            f"{dark:g} mag/arcsec²" if dark else "",
            f"faintest star {faintest:g}" if faintest else "",
            entry.words,
        ]
        return "sky: " + ", ".join(f for f in facts if f)
    if isinstance(entry, AxisEntry):
        return (
            f"axis by {entry.method}: high {entry.high_arcmin:+.1f}′ ± "
            f"{bar(entry.high_sigma_arcmin, 1)}′, east {entry.east_arcmin:+.1f}′ ± "
            f"{bar(entry.east_sigma_arcmin, 1)}′"
        )
    if isinstance(entry, FoundEntry):
        took = "" if entry.minutes is None else f", {entry.minutes:g} minutes"
        return f"{entry.name} {'' if entry.found else 'not '}found by {_then(entry.ways)}{took}"
    if isinstance(entry, WorkEntry):
        return (
            f"{'set up' if entry.work == 'set_up' else 'taken down'} in {entry.minutes:g} minutes"
        )
    turns = f"altitude {entry.altitude_turns:+g}, azimuth {entry.azimuth_turns:+g}"
    return f"bolts turned: {turns}"


def found_words(found: Found) -> str:
    """What was found, without its evening."""
    if found.object is None:
        return found.words
    skipped = " (skipped)" if found.skipped else ""
    return f"{found.object}{skipped}" + (f": {found.words}" if found.words else "")


def search_text(found: Sequence[Found]) -> str:
    """All that was found, a line each."""
    lines = [
        f"{day_words(one.date):<17}  evening {one.evening}  {found_words(one)}" for one in found
    ]
    return "\n".join(lines) or "Nothing in the logbook holds these words."


def bolts_text(answer: BoltsAnswer) -> str:
    """What the record teaches of both bolts."""
    return "\n".join(
        [_bolt_words("altitude", answer.altitude), _bolt_words("azimuth", answer.azimuth)]
    )


def _bolt_words(bolt: str, learned: TurnsPerDegree | None) -> str:
    if learned is None:
        return f"{bolt}: not known yet; measure the axis, turn the bolt, measure again."
    return (
        f"{bolt}: {abs(learned.turns_per_degree):.2f} ± {bar(learned.sigma, 2)} turns per degree, "
        f"from {learned.count} turn{'s' if learned.count != 1 else ''}."
    )


def exported_text(files: Sequence[str]) -> str:
    """Which files were written."""
    return "Wrote " + ", ".join(files) + "."


def imported_text(added: int, file: Path) -> str:
    """How many rows were new."""
    return f"{added} new rows from {file}."
