"""In which words is one measurement told: what it was, its rows, what looked wrong in it?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.pole.readings.suspects import Slip, SlipKind
from axletree.pole.solution.record import Measured
from axletree.stages.set_up.axis_remarks import AxisMethod, Remark, RemarkKind
from axletree.stages.set_up.check_findings import (
    DriftFinding,
    Finding,
    FramesFinding,
    ReadingsFinding,
    ReadNext,
)
from axletree.stages.set_up.pictures_finding import PicturesFinding
from axletree.tell.check.pictures.text import pictures_next, pictures_table
from axletree.tell.check.turns_text import farther_apart_words, middle_cell, turned_cells
from axletree.tell.shared.words import bar, clock, duration, signed

METHODS = {
    AxisMethod.DRIFT: "drift",
    AxisMethod.READINGS: "circle readings",
    AxisMethod.FRAMES: "frames",
    AxisMethod.PICTURES: "pictures",
}
MEASURED_THINGS = {AxisMethod.FRAMES: "frames", AxisMethod.PICTURES: "pictures"}


def north_south(arcsec: float) -> str:
    """A drift as '7.2″ north'."""
    towards = "north" if arcsec >= 0 else "south"
    return f"{abs(arcsec):.1f}″ {towards}" if round(abs(arcsec), 1) else "0.0″"


def measured_words(measured: Measured, zone: ZoneInfo) -> str:
    """'drift, 21:42 (stars.csv)'."""
    return noted_words(measured.method, measured.at, measured.source, zone)


def noted_words(method: str, at: datetime, source: str, zone: ZoneInfo) -> str:
    """The same of what a note says; a method that this version doesn't know by its own name."""
    known = {str(m): said for m, said in METHODS.items()}
    return f"{known.get(method, method)}, {clock(at, zone)} ({source})"


def finding_words(finding: Finding) -> str:
    """'drift of 4 stars'."""
    if isinstance(finding, FramesFinding):
        return f"{len(finding.frames)} frames"
    if isinstance(finding, PicturesFinding):
        count = len(finding.run.recognised)
        return "one long exposure" if finding.arcs else f"{count} pictures"
    names = finding.rows.names
    if isinstance(finding, DriftFinding):
        return f"drift of {len(names)} stars" if len(names) > 1 else f"drift of {names[0]}"
    stars = len(set(names))
    of = f"{stars} star{'s' if stars > 1 else ''}"
    if stars == len(names):
        return f"circle readings of {of}"
    return f"{len(names)} circle readings of {of}"


def finding_table(finding: Finding) -> list[str]:
    """One line a star or frame, below a line of headings."""
    if isinstance(finding, DriftFinding):
        return _drift_table(finding)
    if isinstance(finding, ReadingsFinding):
        return _readings_table(finding)
    if isinstance(finding, PicturesFinding):
        return pictures_table(finding)
    return _frames_table(finding)


def _drift_table(finding: DriftFinding) -> list[str]:
    rows, solved = finding.rows, finding.solved
    table = ["star                 hour angle  watched   drift            misfit"]
    for k, name in enumerate(rows.names):
        drift = rows.drift_arcsec[k] * (-1.0 if k in solved.taken_reversed else 1.0)
        mark = " reversed" if k in solved.taken_reversed else ""
        mark = " left out" if k in solved.left_out else mark
        table.append(
            f"{name[:20]:<20} {signed(rows.hour_angle_h[k], 2):>8} h   "
            f"{duration(rows.watched_s[k]):<8}  {north_south(drift):<15} "
            f"{signed(solved.misfit_arcsec[k]):>6}″{mark}"
        )
    return table


def _readings_table(finding: ReadingsFinding) -> list[str]:
    rows, solved = finding.rows, finding.solved
    table = ["star                 side  hour circle  decl. circle   misfit"]
    for k, name in enumerate(rows.names):
        mark = " left out" if k in solved.left_out else ""
        table.append(
            f"{name[:20]:<20} {rows.sides[k]:<5} {signed(rows.hour_circle_h[k], 2):>8} h   "
            f"{signed(rows.declination_circle_deg[k], 2):>8}°    "
            f"{signed(solved.hour_misfit_arcmin[k] / 15.0):>6} min "
            f"{signed(solved.declination_misfit_arcmin[k]):>6}′{mark}"
        )
    return table


def _frames_table(finding: FramesFinding) -> list[str]:
    solved = finding.solved
    table = ["frame                    middle, UTC           altitude  turned   misfit"]
    for k, frame in enumerate(finding.frames):
        turned, misfit = turned_cells(solved, k)
        table.append(
            f"{frame.name[:24]:<24} {middle_cell(finding.moments[k])}  "
            f"{solved.altitude_deg[k]:>5.1f}°  {turned:>8}  {misfit:>7}"
        )
    return table


def remark_words(finding: Finding) -> list[str]:
    """What looked wrong in a measurement and was settled, a sentence or two each."""
    return [_remark(finding, remark) for remark in finding.remarks]


def _remark(finding: Finding, remark: Remark) -> str:
    if remark.kind is RemarkKind.WIDENED:
        what = MEASURED_THINGS.get(finding.method, "readings")
        return (
            f"The {what} disagree with each other more than their errors allow; the uncertainty "
            f"was widened {remark.widened:.1f} times. One more would tell which of them is wrong."
        )
    if remark.kind is RemarkKind.SET_ANEW:
        return (
            f"The {remark.circle} circle seems to have been set anew between the tube sides: left "
            "alone, it can't have shown this. Each side's setting was taken for itself. Right? Say "
            f"so in the column {remark.circle}_circle_setting."
        )
    who = ", ".join(_row(finding, k) for k in remark.rows)
    if isinstance(finding, PicturesFinding) and remark.kind is RemarkKind.NO_EXPOSURE_TIME:
        return f"{who}: no exposure time in it: when it began was taken as the middle."
    if remark.kind is RemarkKind.NOT_RECOGNISED:
        return f"{who}: its stars were not recognised; it was left out."
    if remark.kind is RemarkKind.NO_EXPOSURE_TIME:
        return f"{who}: no exposure time: DATE-OBS was taken as the middle."
    if remark.kind is RemarkKind.TAKEN_REVERSED:
        return (
            f"{who}: the drift fits only with north and south swapped, and was taken so. Move the "
            "tube a little north: the star moves south in the eyepiece; note which way that is."
        )
    if isinstance(finding, DriftFinding):
        return f"{who} fits nothing that the others say and was left out."
    if remark.slip is None:
        return f"{who} doesn't fit and was left out: probably not of this run."
    return f"{who} doesn't fit and was left out: {_slip(remark.slip)}."


def _row(finding: Finding, k: int) -> str:
    if isinstance(finding, FramesFinding):
        return finding.frames[k].name
    if isinstance(finding, PicturesFinding):
        return finding.shots[k].name
    return f"{finding.rows.names[k]} (line {finding.rows.lines[k]})"


def _slip(slip: Slip) -> str:
    if slip.kind is SlipKind.HOUR_MISREAD:
        return f"the hour circle looks misread by {round(abs(slip.hours))} h"
    if slip.kind is SlipKind.DECLINATION_MISREAD:
        return f"the declination circle looks misread by {10 * round(abs(slip.degrees) / 10.0)}°"
    if slip.kind is SlipKind.ANOTHER_STAR:
        return "both circles are off: probably another star"
    return f"off by {slip.hours * 60.0:+.1f} min and {slip.degrees:+.1f}°".replace("-", "−")


def next_by_same_words(finding: Finding) -> str:
    """What to measure next by the same method, '' if nothing special."""
    if isinstance(finding, ReadingsFinding) and finding.next_reading is not None:
        return _read_next(finding.next_reading)
    if isinstance(finding, PicturesFinding):
        return pictures_next(finding)
    return _frames_next(finding) if isinstance(finding, FramesFinding) else ""


def _read_next(star: ReadNext) -> str:
    reading = star.reading
    return (
        f"Read {star.star} next, tube side {star.side} (hour angle {signed(star.hour_angle_h)} h): "
        f"the worst direction shrinks from ±{bar(reading.worst_now_arcmin, 1)}′ to "
        f"±{bar(reading.worst_then_arcmin, 1)}′."
    )


def _frames_next(finding: FramesFinding) -> str:
    said = farther_apart_words(finding.narrow_turn_h, MEASURED_THINGS[finding.method])
    if finding.nearer_the_pole:
        said.append(
            "Frames nearer the pole would help too: there the turn of the picture about its "
            "middle, which is known worst, counts less."
        )
    return " ".join(said)
