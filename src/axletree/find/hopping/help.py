"""What would make a hop sure enough, where none is?"""

from __future__ import annotations

from dataclasses import replace

from axletree.find.hopping.answer import HopAnswer, HopHelp, HopHelpKind, HopOutcome, HopQuestion
from axletree.find.hopping.hop import hop_by, search_of, starts_of, surest
from axletree.find.hopping.way import WaySearch

# What is tried; ours.
_WIDER = 1.5
_DARKER_MAG = 1.0


def hop_with_help(question: HopQuestion) -> HopAnswer:
    """The hop, and where none is sure enough to be offered, what would help."""
    search = search_of(question)
    answer = hop_by(search, question)
    if answer.outcome in (HopOutcome.HOP, HopOutcome.SHOWS):
        return answer
    return replace(answer, helps=what_helps(question, search))


def what_helps(question: HopQuestion, search: WaySearch | None = None) -> tuple[HopHelp, ...]:
    """What makes a hop worth offering that isn't, each tried alone.

    Several searches: for the answer to somebody who asks for one object, not for a whole evening.
    `search` is the question's own, where it is at hand.
    """
    search = search_of(question) if search is None else search
    sight = question.sight
    wider, eyepiece = _WIDER * sight.finder_field_deg, _WIDER * sight.eyepiece_field_deg
    eye = sight.bare_eye_limit_mag + _DARKER_MAG
    darker = replace(
        sight, finder_limit_mag=sight.finder_limit_mag + _DARKER_MAG, bare_eye_limit_mag=eye
    )
    trials = [
        (HopHelpKind.WIDER_FINDER, wider, search.through(replace(sight, finder_field_deg=wider))),
        (HopHelpKind.WIDER_EYEPIECE, eyepiece, search.into(eyepiece)),
        (HopHelpKind.DARKER_SKY, eye, search.through(darker)),
    ]
    helps = []
    for kind, figure, tried in trials:
        way = surest(tried, starts_of(tried, question))
        if way is not None:
            helps.append(HopHelp(kind, figure, way.chance))
    other = None if question.start is None else surest(search, search.starts())
    if other is not None:
        magnitude = float(search.about.magnitude_v[other.stars[0]])
        helps.append(HopHelp(HopHelpKind.OTHER_START, magnitude, other.chance))
    return tuple(helps)
