"""How does a course go on from a moment, with the rest as the person wants it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from axletree.app.night.course import Course
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.time.nights import later

if TYPE_CHECKING:
    from axletree.evening.sheet.going_on import Standing
    from axletree.evening.stops.stop import Stop


@dataclass(frozen=True)
class Rest:
    """How the rest of the evening is wanted: in a `given` order (None: the best one), `in_min`
    minutes from now on, the present stop `longer_min` longer; or `left`, as it is just now."""

    given: Sequence[str] | None = None
    in_min: float = 0.0
    longer_min: float = 0.0
    left: bool = False


@dataclass(frozen=True)
class Step:
    """What was done, in words for taking it back; whether the order is the person's own; the tick's
    mark where it was one."""

    words: str
    own: bool = False
    tick: str = ""


def gone_on(kit: Kit, course: Course, at: datetime, rest: Rest, step: Step) -> Course:
    """The course from `at` on, with the rest as the person wants it."""
    from axletree.evening.sheet.going_on import SoFar, go_on
    from axletree.sky.observer import observer_of

    standing = _standing(course, at, rest)
    known = tuple(s.catalogue_id for s in course.stops if s.catalogue_id not in course.ticked)
    goes_on = standing is not None and standing.until is not None
    present = standing.key if standing and goes_on else ""
    given = None if rest.given is None else tuple(k for k in rest.given if k != present)
    begin = later(at, 60.0 * rest.in_min)
    new = go_on(
        kit, observer_of(kit.site), course.planned,
        SoFar(
            at=begin,
            gone=tuple(course.ticked & course.known()),
            standing=standing,
            promised=tuple(sorted(course.promised)),
            announced=known,
            closed=course.closed,
            given=given,
        ),
    )  # fmt: skip
    return replace(
        course, stops=new.stops, own=step.own, lost=new.lost, broken=new.broken,
        stay_cut_s=new.stay_cut_s, quality=new.quality, step=step.words, tick=step.tick,
        here=new.here, axis_anew=False, best_from=begin if rest.given is None else None,
    )  # fmt: skip


def _standing(course: Course, at: datetime, rest: Rest) -> Standing | None:
    """Where the rig stands, and until when it stays there."""
    from axletree.evening.sheet.going_on import Standing

    first = next((s for s in course.stops if s.catalogue_id not in course.ticked), None)
    runs = first is not None and begun(first, at)
    key = first.catalogue_id if first else ""
    stays = rest.given is None or list(rest.given[:1]) == [key] or rest.longer_min
    if first is not None and runs and stays and not rest.in_min and not rest.left:
        # Clocks may be put back meanwhile: moments are compared and counted in UTC.
        until = later(max(first.end, at, key=datetime.timestamp), 60.0 * rest.longer_min)
        if until.timestamp() > at.timestamp():
            return Standing(first.catalogue_id, first.chosen.side, first.begin, until)
    if course.stood is None:
        return None
    key, side, begin = course.stood
    # What was shown already needs no second place; what was only begun may come again.
    return Standing(key, side, begin) if key in course.ticked else None


def begun(stop: Stop, at: datetime) -> bool:
    """True from the second on in which a stop begins: pages count whole seconds."""
    return at.timestamp() > stop.begin.timestamp() - 1.0
