"""What do Moon, planets and double stars show at their stops?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from axletree.evening.stops.stop import Stop
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.sky.happenings.kinds import Happening
from axletree.sky.observer import Observer


def with_bodies(
    stops: Sequence[Stop], observer: Observer, told: tuple[Happening, ...]
) -> tuple[Stop, ...]:
    """The stops, each with what its object shows at its begin, and of what is `told` of the session
    that which goes on then or begins until its end."""
    return tuple(
        replace(stop, body=at_eyepiece(stop.candidate.thing, stop.begin, observer, stop.end, told))
        for stop in stops
    )
