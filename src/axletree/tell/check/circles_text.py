"""In which words is told what circle readings say of the mount itself?"""

from __future__ import annotations

import math

from axletree.axis.unknowns import CONE, LEAN, USUAL_CONE_ARCMIN, USUAL_LEAN_ARCMIN
from axletree.pole.readings.solve import CircleIndex, ReadingsSolution
from axletree.stages.set_up.check_findings import Finding, ReadingsFinding
from axletree.tell.shared.words import signed


def mount_facts(finding: Finding) -> list[str]:
    """What else was learned of the mount: index errors, cone and lean; [] without circles."""
    if not isinstance(finding, ReadingsFinding):
        return []
    solved = finding.solved
    facts = [
        _index_words(own, sum(other.circle == own.circle for other in solved.indices) > 1, solved)
        for own in solved.indices
    ]
    for name, usual, words in (
        (CONE, USUAL_CONE_ARCMIN, "The tube leans out from the square to the declination axis"),
        (
            LEAN,
            USUAL_LEAN_ARCMIN,
            "The tube's end of the declination axis leans to the elevated pole",
        ),
    ):
        known = solved.known(name)
        if known:
            facts.append(f"{words} by {signed(known[0])}′ (±{known[1]:.1f}).")
        else:
            facts.append(
                f"{words} by an amount that these readings leave open; taken as "
                f"0 ± {usual:.0f}′ (common practice)."
            )
    return [*facts, *_left_alone(solved)]


def _index_words(own: CircleIndex, several: bool, solved: ReadingsSolution) -> str:
    """What a setting of a circle shows too much, and on which tube side."""
    hour = own.circle == "hour"
    unit, places, mark = (15.0, 1, " min") if hour else (60.0, 2, "°")
    sure = f"(±{own.sigma_arcmin / unit:.{places}f}{mark})"

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
            else "these readings couldn't show a move"
        )
        taken.append(f"the {circle} circle ({seen})")
        columns.append(f"{circle}_circle_setting")
    if not taken:
        return ()
    return (
        f"Taken as not set anew between the tube sides: {' and '.join(taken)}. If one was, say so "
        f"in the column {' or '.join(columns)}.",
    )
