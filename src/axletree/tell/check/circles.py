"""What do circle readings say: of the axis, and of the mount itself?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import TYPE_CHECKING, Any

from axletree.kit.kit import Kit
from axletree.pole.solution.mount_frame import Pole
from axletree.sky.observer import Observer
from axletree.tell.check.findings import Finding, finite, latest, signed, widened

if TYPE_CHECKING:
    from axletree.pole.readings.solve import CircleIndex, ReadingsSolution
    from axletree.pole.rows.readings_file import CircleRows


def from_readings(
    rows: CircleRows, text: str, source: str, now: datetime, kit: Kit, observer: Observer,
    pole: Pole, centring_arcmin: float,
) -> Finding:  # fmt: skip
    """The finding of a file of circle readings."""
    from axletree.pole.readings.solve import circle_sigmas_arcmin, solve_readings

    sigmas = circle_sigmas_arcmin(
        kit.mount.hour_circle_step_min, kit.mount.declination_circle_step_deg
    )
    solved = solve_readings(
        rows.hour_angle_h, rows.declination_deg, rows.sides, rows.hour_circle_h,
        rows.declination_circle_deg, observer, circle_sigma_arcmin=sigmas,
        centring_sigma_arcmin=centring_arcmin, pole=pole, hour_settings=rows.hour_settings,
        declination_settings=rows.declination_settings,
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
    remarks += [
        f"The {circle} circle seems to have been set anew between the tube sides: left alone, it "
        "can't have shown this. Each side's setting was taken for itself. Right? Say so in the "
        f"column {circle}_circle_setting."
        for circle in solved.set_anew
    ]
    remarks += widened(solved.widened, "readings")
    moments = latest(rows.moments, now)
    return Finding(
        method="readings",
        at=moments,
        source=source,
        text=text,
        words=_counted(rows.names),
        estimate=solved.estimate,
        rows=tuple(table),
        remarks=tuple(remarks),
        facts=(*_mount_facts(solved), *_left_alone(solved)),
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


def _counted(names: tuple[str, ...]) -> str:
    stars = len(set(names))
    of = f"{stars} star{'s' if stars > 1 else ''}"
    return (
        f"circle readings of {of}"
        if stars == len(names)
        else (f"{len(names)} circle readings of {of}")
    )


def _mount_data(solved: ReadingsSolution) -> dict[str, Any]:
    from axletree.pole.readings.model import CIRCLES, UNKNOWNS

    out: dict[str, Any] = {}
    last = {f"index_{circle}": solved.index(circle) for circle in CIRCLES}
    for name in UNKNOWNS[2:]:
        index = last.get(name)
        known = (index.arcmin, index.sigma_arcmin) if index else solved.known(name)
        out[f"{name}_arcmin"] = known[0] if known else None
        out[f"{name}_sigma_arcmin"] = known[1] if known else None
    out["circles_show_too_much"] = [
        {
            "circle": own.circle,
            "setting": own.setting or None,
            "on_side_east_arcmin": own.shows_too_much_arcmin(1),
            "on_side_west_arcmin": own.shows_too_much_arcmin(-1),
            "sigma_arcmin": own.sigma_arcmin,
        }
        for own in solved.indices
    ]
    out["set_anew_between_sides"] = list(solved.set_anew)
    out["set_anew_seen_from_arcmin"] = {
        circle: finite(arcmin) for circle, arcmin in solved.anew_seen_from_arcmin
    }
    out["information_per_arcmin2"] = solved.information.tolist()
    out["unknowns"] = list(UNKNOWNS)
    return out


def _mount_facts(solved: ReadingsSolution) -> tuple[str, ...]:
    facts = [
        _index_words(own, sum(other.circle == own.circle for other in solved.indices) > 1, solved)
        for own in solved.indices
    ]
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


def _index_words(own: CircleIndex, several: bool, solved: ReadingsSolution) -> str:
    """What a setting of a circle shows too much, and on which tube side."""
    hour = own.circle == "hour"
    unit, places, mark = (15.0, 1, " min") if hour else (60.0, 2, "°")
    sure = f"(± {own.sigma_arcmin / unit:.{places}f}{mark})"

    def much(side: int) -> str:
        shows = own.shows_too_much_arcmin(side) / unit
        return f"{abs(shows):.{places}f}{mark} too {'much' if shows >= 0 else 'little'}"

    circle = f"{own.circle.capitalize()} circle"
    if own.circle in solved.set_anew:
        side = 1 if own.setting == "east" else -1
        return f"{circle} as set on side {own.setting}: shows {much(side)} there {sure}."
    if several:
        circle += f", setting '{own.setting}'"
    if f"{abs(own.arcmin) / unit:.{places}f}" == f"{0:.{places}f}":
        return f"{circle}: shows right on both tube sides {sure}."
    if hour:
        return f"{circle}: shows {much(1)} on both tube sides {sure}."
    return f"{circle}: shows {much(1)} on tube side east, {much(-1)} on side west {sure}."


def _left_alone(solved: ReadingsSolution) -> tuple[str, ...]:
    """What is taken of the circles between the sides, and from where on it would have shown."""
    taken, columns = [], []
    for circle, arcmin in solved.anew_seen_from_arcmin:
        if circle in solved.set_anew:
            continue
        size = f"{arcmin / 15.0:.0f} min" if circle == "hour" else f"{arcmin / 60.0:.1f}°"
        seen = (
            f"a move of {size} or more would show"
            if math.isfinite(arcmin)
            else ("these readings couldn't show a move")
        )
        taken.append(f"the {circle} circle ({seen})")
        columns.append(f"{circle}_circle_setting")
    if not taken:
        return ()
    return (
        f"Taken as not set anew between the tube sides: {' and '.join(taken)}. If one was, say so "
        f"in the column {' or '.join(columns)}.",
    )


def _next_reading(
    solved: ReadingsSolution, observer: Observer, at: datetime, sigmas: tuple[float, float],
    centring_arcmin: float, pole: Pole,
) -> str:  # fmt: skip
    from axletree.pole.correct.next_star import next_reading
    from axletree.pole.solution.candidates import candidates
    from axletree.sky.time.instants import Instants

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
