"""What happens in a session on the bodies that could be shown, and when is a stop worth more for
it?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from axletree.evening.night.set_up_times import Session, seconds_between
from axletree.evening.order.candidates import Opening
from axletree.sky.happenings.ask import happenings
from axletree.sky.happenings.kinds import Happening, HappeningKind, TurnKind
from axletree.sky.lunar.features import moon_features
from axletree.sky.observer import Observer

BODIES = ("moon", "jupiter", "saturn")
# What a stop is worth more in which a contact falls, and one while a shadow crosses (ours).
CONTACT_POINTS, CROSSING_POINTS = 6.0, 3.0
# The Moon's features are many: those that everybody knows are told.
_RANK = 1
# The moment that is waited for at an edge: the middle's where it is seen.
_CONTACTS = (TurnKind.MIDDLE_IN, TurnKind.MIDDLE_OUT)


def happenings_in(
    keys: Iterable[str], session: Session, observer: Observer
) -> tuple[Happening, ...]:
    """What happens in the session on those of the catalogue keys that are Moon, Jupiter, Saturn.

    Of the Moon, its best known features that come into good light or leave it.
    """
    start, stop = session.first_stop, session.end
    if stop <= start:
        return ()
    asked = set(keys)
    told: list[Happening] = []
    for body in BODIES:
        if body not in asked:
            continue
        found = happenings(body, start, stop, observer, start.tzinfo or "UTC")
        told += [h for h in found if _is_told(h)]
    return tuple(told)


def _is_told(happening: Happening) -> bool:
    """Passages that touch the session; of features the well known ones that come or go in it."""
    if happening.kind is not HappeningKind.FEATURE_IN_LIGHT:
        return True
    return bool(happening.turns) and any(
        f.rank <= _RANK and f.name == happening.actor for f in moon_features()
    )


def worth_more(
    openings: Sequence[Opening], told: Sequence[Happening], session: Session, show_s: float
) -> list[Opening]:
    """The openings, and beside them narrower ones that are worth more for what happens then.

    `told` are one body's. A stop of `show_s` within a narrower one has the contact in it, or lies
    wholly within the shadow's crossing.
    """
    spans = list(_spans(told, session, show_s))
    more = []
    for opening in openings:
        for begin, end, points in spans:
            inner = max(begin, opening.start_s), min(end, opening.end_s)
            if inner[1] - inner[0] >= show_s:
                more.append(Opening(opening.side, *inner, opening.value_change + points))
    return [*openings, *more]


def _spans(
    told: Sequence[Happening], session: Session, show_s: float
) -> Iterable[tuple[float, float, float]]:
    """(begin, end, points) in seconds from the session's first stop."""
    for happening in told:
        if happening.kind is HappeningKind.FEATURE_IN_LIGHT or happening.grazing:
            continue
        for turn in happening.turns:
            if turn.seen and turn.kind in _CONTACTS:
                moment = seconds_between(session.first_stop, turn.time)
                yield moment - show_s, moment + show_s, CONTACT_POINTS
        begin, end = happening.begin, happening.end
        if happening.kind is HappeningKind.SHADOW_ON_DISC and begin and end:
            crossing = [seconds_between(session.first_stop, t.time) for t in (begin, end)]
            yield crossing[0], crossing[1], CROSSING_POINTS
