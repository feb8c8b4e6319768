"""What do Moon, planets and double stars show at their stops, and what makes tonight special?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from axletree.evening.objects.tonight import TonightSky
from axletree.evening.stops.stop import Stop
from axletree.find.at_eyepiece.ask import at_eyepiece
from axletree.sky.observer import Observer


def with_bodies(stops: Sequence[Stop], observer: Observer, tonight: TonightSky) -> tuple[Stop, ...]:
    """The stops, each with what its object shows at its begin, of what happens in the session that
    which goes on then or begins until its end, and what is special about it tonight."""
    made = []
    for stop in stops:
        thing = stop.candidate.thing
        on_it = tonight.on(thing.catalogue_id, thing.name)
        body = at_eyepiece(thing, stop.begin, observer, stop.end, on_it.told)
        made.append(replace(stop, body=body, special=on_it.special))
    return tuple(made)
