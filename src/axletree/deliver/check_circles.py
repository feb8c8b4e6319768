"""What do circle readings say: of the axis, and of the mount itself?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import TYPE_CHECKING, Any

from axletree.deliver.check_findings import Finding, latest, signed, widened
from axletree.kit.kit import Kit
from axletree.pole.mount_frame import Pole
from axletree.sky.observer import Observer

if TYPE_CHECKING:
    from axletree.pole.readings import ReadingsSolution
    from axletree.pole.readings_file import CircleRows


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
    remarks += widened(solved.widened, "readings")
    moments = latest(rows.moments, now)
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
            f"Hour circle: shows {abs(hour[0]) / 15.0:.1f} min too {_much(hour[0])} "
            f"(± {hour[1] / 15.0:.1f})."
        )
    if declination:
        facts.append(
            f"Declination circle: shows {abs(declination[0]) / 60.0:.2f}° too "
            f"{_much(declination[0])} (± {declination[1] / 60.0:.2f})."
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


def _much(value: float) -> str:
    return "much" if value >= 0 else "little"


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
