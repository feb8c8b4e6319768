"""What does one measurement of the axis say: its estimate, its rows, and what looked wrong?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from axletree.deliver.words import duration
from axletree.kit.kit import Kit
from axletree.pole.estimate import AxisEstimate
from axletree.pole.mount_frame import Pole
from axletree.sky.observer import Observer

if TYPE_CHECKING:
    from axletree.pole.drift import DriftSolution
    from axletree.pole.drift_file import DriftRows
    from axletree.pole.frame_file import Frame
    from axletree.pole.frames import FramesSolution
    from axletree.pole.readings import ReadingsSolution
    from axletree.pole.readings_file import CircleRows


@dataclass(frozen=True)
class Finding:
    """One measurement, ready to be told. `text` is what it was made from, to know it again.

    `rows`: a table, one line a star or frame. `remarks`: what looked wrong, one sentence each.
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


def signed(value: float, places: int = 1) -> str:
    """A number with its sign, a true minus, never '-0.0'."""
    text = f"{abs(value):.{places}f}"
    return f"{'−' if value < 0 and float(text) else '+'}{text}"


def north_south(arcsec: float) -> str:
    """A drift as '7.2″ north'."""
    way = "north" if arcsec >= 0 else "south"
    return f"{abs(arcsec):.1f}″ {way}" if round(abs(arcsec), 1) else "0.0″"


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _latest(moments: Sequence[datetime | None], now: datetime) -> datetime:
    given = [m for m in moments if m is not None]
    return max(given) if given else now


def from_drift(
    rows: DriftRows, text: str, source: str, now: datetime, observer: Observer, pole: Pole,
    evidence: AxisEstimate | None = None,
) -> Finding:  # fmt: skip
    """The finding of a drift file."""
    from axletree.pole.drift import solve_drift

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
    count = len(rows.names)
    words = f"drift of {count} stars" if count > 1 else f"drift of {rows.names[0]}"
    return Finding(
        method="drift",
        at=_latest(rows.moments, now),
        source=source,
        text=text,
        words=words,
        estimate=solved.estimate,
        rows=tuple(table),
        remarks=_drift_remarks(solved, rows),
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


def _drift_remarks(solved: DriftSolution, rows: DriftRows) -> tuple[str, ...]:
    def star(k: int) -> str:
        return f"{rows.names[k]} (line {rows.lines[k]})"

    remarks: list[str] = []
    if solved.taken_reversed:
        who = ", ".join(star(k) for k in solved.taken_reversed)
        remarks.append(
            f"{who}: the drift fits only with north and south swapped, and was taken so. Move the "
            "tube a little north: the star moves south in the eyepiece; note which way that is."
        )
    if solved.suspected_reversed:
        sets = [" with ".join(star(k) for k in members) for members in solved.suspected_reversed]
        remarks.append(
            "North and south were swapped for one of these, and the drifts can't tell which: "
            + "; or ".join(sets) + ". Measure one of them again before turning a bolt."
        )  # fmt: skip
    for k in solved.left_out:
        remarks.append(f"{star(k)} fits nothing that the others say and was left out.")
    if solved.against_evidence:
        remarks.append(
            "All these drifts contradict what was measured before tonight's last turn of a bolt, "
            "and would agree with it if north and south were swapped for all of them: check which "
            "way is north in the eyepiece."
        )
    remarks += _widened(solved.widened, "drifts")
    return tuple(remarks)


def _widened(factor: float, what: str) -> list[str]:
    if factor <= 1.0:
        return []
    return [
        f"The {what} disagree with each other more than their errors allow; the uncertainty was "
        f"widened {factor:.1f} times. One more would tell which of them is wrong."
    ]


def from_readings(
    rows: CircleRows, text: str, source: str, now: datetime, kit: Kit, observer: Observer,
    pole: Pole, centring_arcmin: float,
) -> Finding:  # fmt: skip
    """The finding of a file of circle readings."""
    from axletree.pole.readings import circle_sigmas_arcmin, solve_readings

    sigmas = circle_sigmas_arcmin(
        kit.mount.hour_circle_step_min, kit.mount.declination_circle_step_deg
    )
    solved = solve_readings(
        rows.hour_angle_h, rows.declination_deg, rows.sides, rows.hour_circle_h,
        rows.declination_circle_deg, observer, circle_sigma_arcmin=sigmas,
        centring_sigma_arcmin=centring_arcmin, pole=pole,
    )  # fmt: skip
    table = ["star                 side  hour circle  decl. circle   misfit"]
    for k, name in enumerate(rows.names):
        mark = " left out" if k in solved.left_out else ""
        table.append(
            f"{name[:20]:<20} {rows.sides[k]:<5} {signed(rows.hour_circle_h[k], 2):>8} h   "
            f"{signed(rows.declination_circle_deg[k], 2):>8}°    "
            f"{signed(solved.hour_misfit_arcmin[k] / 15.0):>6} min "
            f"{signed(solved.declination_misfit_arcmin[k]):>6}′{mark}"
        )
    remarks = [
        f"{rows.names[k]} (line {rows.lines[k]}) doesn't fit and was left out: {hint}."
        for k, hint in zip(solved.left_out, solved.hints, strict=True)
    ]
    remarks += _widened(solved.widened, "readings")
    moments = _latest(rows.moments, now)
    return Finding(
        method="readings",
        at=moments,
        source=source,
        text=text,
        words=f"circle readings of {len(rows.names)} stars",
        estimate=solved.estimate,
        rows=tuple(table),
        remarks=tuple(remarks),
        facts=_mount_facts(solved),
        advice=_next_reading(solved, observer, moments, sigmas, centring_arcmin, pole),
        data={
            "rank": solved.rank,
            "assumed": list(solved.assumed),
            **_mount_data(solved),
            "stars": [
                {
                    "star": name, "line": rows.lines[k], "tube_side": rows.sides[k],
                    "hour_misfit_arcmin": float(solved.hour_misfit_arcmin[k]),
                    "declination_misfit_arcmin": float(solved.declination_misfit_arcmin[k]),
                    "left_out": k in solved.left_out,
                }
                for k, name in enumerate(rows.names)
            ],
            "chance_of_worse_fit": solved.chance,
            "degrees_of_freedom": solved.dof,
        },
    )  # fmt: skip


def _mount_data(solved: ReadingsSolution) -> dict[str, Any]:
    from axletree.pole.readings import UNKNOWNS

    out: dict[str, Any] = {}
    for name in UNKNOWNS[2:]:
        known = solved.known(name)
        out[f"{name}_arcmin"] = known[0] if known else None
        out[f"{name}_sigma_arcmin"] = known[1] if known else None
    out["information_per_arcmin2"] = solved.information.tolist()
    out["unknowns"] = list(UNKNOWNS)
    return out


def _mount_facts(solved: ReadingsSolution) -> tuple[str, ...]:
    facts: list[str] = []
    hour, declination = solved.known("index_hour"), solved.known("index_declination")
    if hour:
        facts.append(
            f"Hour circle: shows {signed(hour[0] / 15.0)} min too much (± {hour[1] / 15.0:.1f})."
        )
    if declination:
        facts.append(
            f"Declination circle: shows {signed(declination[0] / 60.0, 2)}° too much "
            f"(± {declination[1] / 60.0:.2f})."
        )
    for name, words in (
        ("cone", "The tube leans out from the square to the declination axis"),
        ("lean", "The tube's end of the declination axis leans to the elevated pole"),
    ):
        known = solved.known(name)
        if known:
            facts.append(f"{words} by {signed(known[0])}′ (± {known[1]:.1f}).")
        else:
            spread = "20′" if name == "cone" else "10′"
            facts.append(
                f"{words} by an amount that these readings leave open; taken as 0 ± {spread} "
                "(common practice)."
            )
    return tuple(facts)


def _next_reading(
    solved: ReadingsSolution, observer: Observer, at: datetime, sigmas: tuple[float, float],
    centring_arcmin: float, pole: Pole,
) -> str:  # fmt: skip
    from axletree.pole.candidates import candidates
    from axletree.pole.next_star import next_reading
    from axletree.sky.time import Instants

    near = candidates(Instants.from_datetime(at), observer)
    if not len(near):
        return ""
    sigma = (math.hypot(sigmas[0], centring_arcmin), math.hypot(sigmas[1], centring_arcmin))
    best = next_reading(
        solved.information, near.hour_angle_h, near.declination_deg, sigma, observer, pole=pole
    )
    side = "east" if best.side > 0 else "west"
    k = best.candidate
    return (
        f"Read {near.names[k]} next, tube side {side} (hour angle "
        f"{signed(near.hour_angle_h[k])} h): the worst direction shrinks from "
        f"± {best.worst_now_arcmin:.1f}′ to ± {best.worst_then_arcmin:.1f}′."
    )


def from_frames(
    frames: Sequence[Frame], observer: Observer, pole: Pole, across_sigma_arcsec: float | None
) -> Finding:
    """The finding of camera frames."""
    from axletree.pole.frames import axis_from_frames

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
    remarks += _widened(solved.widened, "frames")
    span = float(max(solved.turned_h) - min(solved.turned_h)) if not solved.left_out else 3.0
    advice = ""
    if span < 3.0:
        advice = (
            f"The hour axis was turned by {span:.1f} h in all: frames farther apart, up to 6 h, "
            "would sharpen this most."
        )
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
                    "turned_h": _finite(solved.turned_h[k]),
                    "misfit_across_arcsec": _finite(math.hypot(*solved.misfit_arcsec[k][:2])),
                    "misfit_about_arcsec": _finite(solved.misfit_arcsec[k][2]),
                    "left_out": k in solved.left_out,
                }
                for k, frame in enumerate(frames)
            ],
            "chance_of_worse_fit": solved.chance,
            "degrees_of_freedom": solved.dof,
        },
    )  # fmt: skip
