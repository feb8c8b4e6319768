"""What does one measurement of the axis say: its estimate, its rows, and what looked wrong?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any

from axletree.pole.solution.doubt import Doubt
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.mount_frame import Pole
from axletree.sky.observer import Observer
from axletree.tell.shared.words import duration

if TYPE_CHECKING:
    from axletree.pole.drift.solve import DriftSolution
    from axletree.pole.frames.solve import FramesSolution
    from axletree.pole.picture.frame_file import Frame
    from axletree.pole.rows.drift_file import DriftRows


@dataclass(frozen=True)
class Finding:
    """One measurement, ready to be told. `text` is what it was made from, to know it again.

    `rows`: a table, one line a star or frame. `remarks`: what looked wrong, one sentence each.
    `doubts`: what the measurement can't settle by itself.
    `facts`: what else was learned (index errors, cone). `advice`: what to measure next by the
    same method, '' if nothing special.
    """

    method: str
    at: datetime
    source: str
    text: str
    words: str
    estimate: AxisEstimate
    rows: tuple[str, ...]
    remarks: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    advice: str = ""
    data: dict[str, Any] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()


def signed(value: float, places: int = 1) -> str:
    """A number with its sign, a true minus, never '-0.0'."""
    text = f"{abs(value):.{places}f}"
    return f"{'−' if value < 0 and float(text) else '+'}{text}"


def north_south(arcsec: float) -> str:
    """A drift as '7.2″ north'."""
    way = "north" if arcsec >= 0 else "south"
    return f"{abs(arcsec):.1f}″ {way}" if round(abs(arcsec), 1) else "0.0″"


def finite(value: float) -> float | None:
    """The number, None where it is infinite or not a number (JSON has neither)."""
    return float(value) if math.isfinite(value) else None


def latest(moments: Sequence[datetime | None], now: datetime) -> datetime:
    """The latest moment that was given, or now."""
    given = [m for m in moments if m is not None]
    return max(given) if given else now


def from_drift(
    rows: DriftRows, text: str, source: str, now: datetime, observer: Observer, pole: Pole,
    evidence: AxisEstimate | None = None,
) -> Finding:  # fmt: skip
    """The finding of a drift file."""
    from axletree.pole.drift.solve import solve_drift

    solved = solve_drift(
        rows.hour_angle_h, rows.declination_deg, rows.watched_s, rows.drift_arcsec,
        rows.sigma_arcsec, observer, pole=pole, groups=rows.groups, evidence=evidence,
    )  # fmt: skip
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
    named = tuple(
        f"{name} (line {line})" for name, line in zip(rows.names, rows.lines, strict=True)
    )
    count = len(rows.names)
    words = f"drift of {count} stars" if count > 1 else f"drift of {rows.names[0]}"
    return Finding(
        method="drift",
        at=latest(rows.moments, now),
        source=source,
        text=text,
        words=words,
        estimate=solved.estimate,
        rows=tuple(table),
        remarks=_drift_remarks(solved, named),
        doubts=tuple(replace(doubt, names=named) for doubt in solved.doubts),
        data={
            "stars": [
                {
                    "star": name, "line": rows.lines[k],
                    "hour_angle_h": float(rows.hour_angle_h[k]),
                    "declination_deg": float(rows.declination_deg[k]),
                    "watched_s": float(rows.watched_s[k]),
                    "drift_arcsec": float(rows.drift_arcsec[k]),
                    "drift_sigma_arcsec": float(rows.sigma_arcsec[k]),
                    "misfit_arcsec": float(solved.misfit_arcsec[k]),
                    "taken_reversed": k in solved.taken_reversed,
                    "left_out": k in solved.left_out,
                }
                for k, name in enumerate(rows.names)
            ],
            "all_reversed_suspected": solved.against_evidence,
            "chance_of_worse_fit": solved.chance,
            "degrees_of_freedom": solved.dof,
        },
    )  # fmt: skip


def _drift_remarks(solved: DriftSolution, named: Sequence[str]) -> tuple[str, ...]:
    """What was settled; what stays doubtful is told with everything that is made from it."""
    remarks: list[str] = []
    if solved.taken_reversed:
        who = ", ".join(named[k] for k in solved.taken_reversed)
        remarks.append(
            f"{who}: the drift fits only with north and south swapped, and was taken so. Move the "
            "tube a little north: the star moves south in the eyepiece; note which way that is."
        )
    for k in solved.left_out:
        remarks.append(f"{named[k]} fits nothing that the others say and was left out.")
    return tuple(remarks)


def widened(factor: float, what: str) -> list[str]:
    """The remark that uncertainties were widened, if they were."""
    if factor <= 1.0:
        return []
    return [
        f"The {what} disagree with each other more than their errors allow; the uncertainty was "
        f"widened {factor:.1f} times. One more would tell which of them is wrong."
    ]


def from_frames(
    frames: Sequence[Frame], observer: Observer, pole: Pole, across_sigma_arcsec: float | None
) -> Finding:
    """The finding of camera frames."""
    from axletree.pole.frames.solve import axis_from_frames

    solved: FramesSolution = axis_from_frames(
        frames, observer, pole=pole, across_sigma_arcsec=across_sigma_arcsec
    )
    times = [frame.middle.to_datetimes()[0] for frame in frames]
    table = ["frame                    middle, UTC          altitude  turned   misfit"]
    for k, frame in enumerate(frames):
        turned = f"{signed(solved.turned_h[k], 2)} h" if math.isfinite(solved.turned_h[k]) else "-"
        off = math.hypot(*solved.misfit_arcsec[k][:2])
        misfit = f"{off:.1f}″" if math.isfinite(off) else "left out"
        table.append(
            f"{frame.name[:24]:<24} {times[k]:%Y-%m-%d %H:%M:%S}  {solved.altitude_deg[k]:>5.1f}°  "
            f"{turned:>8}  {misfit:>7}"
        )
    remarks = [f"{frames[k].name} doesn't fit and was left out: probably not of this run."
               for k in solved.left_out]  # fmt: skip
    remarks += [f"{frame.name}: {note}." for frame in frames for note in frame.notes]
    remarks += widened(solved.widened, "frames")
    span = float(max(solved.turned_h) - min(solved.turned_h)) if not solved.left_out else 3.0
    advice = ""
    if span < 3.0:
        advice = (
            f"The hour axis was turned by {span:.1f} h in all: frames farther apart, up to 6 h, "
            "would sharpen this most."
        )
    ellipse = solved.estimate.ellipse()
    if ellipse is not None and ellipse.long_arcmin > 4.0 * ellipse.short_arcmin:
        advice += (
            " Frames nearer the pole would help too: there the turn of the picture about its "
            "middle, which is known worst, counts less."
        )
    advice = advice.strip()
    key = "\n".join(f"{f.name} {t.isoformat()} {f.wcs}" for f, t in zip(frames, times, strict=True))
    return Finding(
        method="frames",
        at=max(times),
        source=", ".join(frame.name for frame in frames),
        text=key,
        words=f"{len(frames)} frames",
        estimate=solved.estimate,
        rows=tuple(table),
        remarks=tuple(remarks),
        advice=advice,
        data={
            "frames": [
                {
                    "file": frame.name, "at": times[k].isoformat(),
                    "pixel_scale_arcsec": frame.scale_arcsec,
                    "altitude_deg": float(solved.altitude_deg[k]),
                    "turned_h": finite(solved.turned_h[k]),
                    "misfit_across_arcsec": finite(math.hypot(*solved.misfit_arcsec[k][:2])),
                    "misfit_about_arcsec": finite(solved.misfit_arcsec[k][2]),
                    "left_out": k in solved.left_out,
                }
                for k, frame in enumerate(frames)
            ],
            "chance_of_worse_fit": solved.chance,
            "degrees_of_freedom": solved.dof,
        },
    )  # fmt: skip
