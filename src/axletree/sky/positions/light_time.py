"""How long was the light of a body of the solar system on its way?"""

from __future__ import annotations

from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.ephemeris import LIGHT_AU_PER_DAY
from axletree.sky.time.instants import Instants


def light_time_s(body: str, instants: Instants, observer: Observer) -> float:
    """Seconds from the body's surface to the observer's eye, at the first of the instants.

    The distance is that of the body's middle; names as of `body_positions`.
    """
    distance_au = float(body_positions(body, instants, observer).distance_au[0, 0])
    return distance_au / LIGHT_AU_PER_DAY * 86400.0
