"""What happens in a session is told on the sheet, and when is a stop worth more for it?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from axletree.evening.night.set_up_times import Session, seconds_between
from axletree.evening.objects.tonight import OnObject, TonightSky
from axletree.evening.order.candidates import Opening
from axletree.sky.happenings.kinds import Happening, HappeningKind, TurnKind
from axletree.sky.lunar.features import moon_features
from axletree.sky.special.kinds import MOON_ECLIPSES, MomentKind, SpecialKind, SpecialNight

# What a stop is worth more in which a contact falls, and one while a shadow crosses (ours).
CONTACT_POINTS, CROSSING_POINTS = 6.0, 3.0
# What nobody sees a few minutes later sets the order around it (ours): a star that goes or comes,
# the deepest of an eclipse.
ONCE_POINTS = 60.0
# The Moon's features are many: those that everybody knows are told, and only where their moment is
# known better than this.
_RANK, _WORST_DOUBT_S = 1, 900.0
# The moment that is waited for at an edge: the middle's where it is seen.
_CONTACTS = (TurnKind.MIDDLE_IN, TurnKind.MIDDLE_OUT)
# While these last, the Moon is in the dark of the Earth's shadow.
_IN_UMBRA = (MomentKind.PARTIAL_BEGINS, MomentKind.PARTIAL_ENDS)


def told_of(tonight: TonightSky, keys: Iterable[str]) -> tuple[Happening, ...]:
    """What happens on those of the catalogue keys, worth a line on the sheet."""
    asked = set(keys)
    return tuple(h for h in tonight.told if h.body in asked and _is_told(h))


def _is_told(happening: Happening) -> bool:
    """Passages that touch the session; of features the well known ones that come or go in it."""
    if happening.kind is not HappeningKind.FEATURE_IN_LIGHT:
        return True
    if not happening.turns or max(t.doubt_s for t in happening.turns) > _WORST_DOUBT_S:
        return False
    return any(f.rank <= _RANK and f.name == happening.actor for f in moon_features())


def worth_more(
    openings: Sequence[Opening], on_it: OnObject, session: Session, show_s: float
) -> list[Opening]:
    """The openings, and beside them narrower ones that are worth more for what happens then.

    `on_it` is one object's. A stop of `show_s` within a narrower one has the contact in it, or
    lies wholly within the shadow's crossing, or the Moon's in the Earth's shadow.
    """
    spans = [
        *_spans(on_it.told, session, show_s),
        *(span for night in on_it.special for span in _special_spans(night, session, show_s)),
    ]
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


def _special_spans(
    night: SpecialNight, session: Session, show_s: float
) -> Iterable[tuple[float, float, float]]:
    """The same of an occultation's contacts, and of the Moon's time in the umbra."""
    if night.kind is SpecialKind.OCCULTATION:
        for moment in night.moments:
            if moment.seen:
                at = seconds_between(session.first_stop, moment.time)
                yield at - show_s, at + show_s, ONCE_POINTS
    if night.kind in MOON_ECLIPSES:
        edges = [night.moment(kind) for kind in _IN_UMBRA]
        umbra = [seconds_between(session.first_stop, m.time) for m in edges if m is not None]
        if len(umbra) == 2:
            yield umbra[0], umbra[1], CROSSING_POINTS
            deepest = seconds_between(session.first_stop, night.greatest.time)
            yield deepest - show_s, deepest + show_s, ONCE_POINTS
