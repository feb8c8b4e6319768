"""In which words is told what is doubtful in a measurement, and what would settle it?"""

from __future__ import annotations

from axletree.pole.correct.advice import CheckStar
from axletree.pole.solution.doubt import Doubt, DoubtKind, Explanation, Mistake
from axletree.stages.set_up.check import CheckAnswer
from axletree.tell.check.measured_text import measured_words
from axletree.tell.shared.words import duration, one_and_another

_ORDINALS = {2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth", 7: "seventh"}
_MOST_NAMED = 12


def doubt_words(answer: CheckAnswer) -> list[str]:
    """One paragraph a doubt; with the measurement that it is about where there are several."""
    out = []
    for standing in answer.standing:
        of = ""
        if standing.measured is not None and (answer.several or answer.finding is None):
            of = f"{measured_words(standing.measured, answer.zone)}: "
        out.append(of + _words(standing.doubt))
    return out


def check_star_words(star: CheckStar, *, disagreeing: bool) -> str:
    """Which star to watch so that a mistake shows."""
    hour = f"{'−' if star.hour_angle_h < 0 else '+'}{abs(star.hour_angle_h):.1f} h"
    why = "tell which one is wrong" if disagreeing else "check the others"
    return (
        f"To {why}: watch {star.name} (hour angle {hour}) for {duration(star.watched_s)} and add "
        f"it to the same list; of any one star's mistake {_percent(star.shown_then)} will show."
    )


def _words(doubt: Doubt) -> str:
    if doubt.kind is DoubtKind.DISAGREEING:
        return _disagreeing(doubt)
    if doubt.kind is DoubtKind.UNCHECKED:
        return _unchecked(doubt)
    return (
        "All these drifts contradict what was measured before since the last turn of a bolt, and "
        "would agree with it if north and south were swapped for all of them: check which way is "
        "north in the eyepiece."
    )


def _disagreeing(doubt: Doubt) -> str:
    head = (
        f"The drifts of {_listed([doubt.names[k] for k in doubt.rows])} disagree more than their "
        f"errors allow (honest errors do so {_percent(doubt.chance)} of the time), and can't tell "
        f"which one is wrong. "
    )
    told = [_explanation(e, doubt.names) for e in doubt.explanations]
    if len(told) > 1:
        head += f"Any one of these would explain it: {'; or '.join(told)}. "
    elif told:
        head += f"This would explain it: {told[0]}. "
    return (
        f"{head}The uncertainty was widened {doubt.widened:.1f} times for it. "
        f"{_another(len(doubt.names))} before turning a bolt."
    )


def _explanation(explanation: Explanation, names: tuple[str, ...]) -> str:
    who = " with ".join(names[k] for k in explanation.rows)
    if explanation.mistake is Mistake.REVERSED:
        return f"north and south swapped for {who}"
    off = explanation.off_arcsec or 0.0
    return f"{who} mistaken, {abs(off):.0f}″ too far {'north' if off >= 0 else 'south'}"


def _unchecked(doubt: Doubt) -> str:
    another = f"{_another(len(doubt.names))} to be sure."
    if not any(round(part, 2) for part in doubt.shown):
        who = _listed([doubt.names[k] for k in doubt.rows])
        which = "in one of them" if len(doubt.rows) > 1 else "there"
        return f"Nothing checks {who}: a mistake {which} would not show at all. {another}"
    each = _listed(
        [
            f"{doubt.names[k]} {_percent(part)}"
            for k, part in zip(doubt.rows, doubt.shown, strict=True)
        ]
    )
    return f"Hardly checked: of a mistake only this much would show: {each}. {another}"


def _another(count: int) -> str:
    ordinal = _ORDINALS.get(count + 1)
    return f"Watch a {ordinal} star" if ordinal else "Watch one more star"


def _listed(names: list[str]) -> str:
    shown = names[:_MOST_NAMED]
    more = len(names) - len(shown)
    if more:
        return f"{', '.join(shown)} and {more} more"
    return one_and_another(shown)


def _percent(part: float) -> str:
    value = part * 100.0
    if value < 0.1:
        return "under 0.1 %"
    return f"{value:.1f} %" if value < 1.0 else f"{value:.0f} %"
