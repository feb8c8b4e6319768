"""Are the error bars of an evening's rooms true? Rigs drawn from the kit's own doubts tell.

They are built one by one and followed by other code (`tests/mount/rigs_drawn.py`), each through
all stops of the evening: how many touch at any, and how many between the moments that were told.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from axletree.evening.sheet.sure_order import allowed_chance
from axletree.kit.kit import Kit
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.room.table import room_table
from axletree.sky.observer import observer_of
from axletree.tell.evening.document import Evening
from mount.rigs_drawn import draw, first_touch_h

RIGS = 200
STEP_H = 0.1
# A share of so many rigs errs by up to this: four standard deviations of the binomial.
SIGMAS = 4.0


@dataclass(frozen=True)
class Bars:
    """Of the rigs drawn for one evening: shares that touch at any stop, by drawing and as told, and
    of each room that a touch can end, the share that touches before the moment told for 5 %."""

    allowed: float
    drawn: float
    told: float
    early: tuple[float, ...]
    rigs: int


def bars_of(kit: Kit, made: Evening, seed: int, rigs: int = RIGS) -> Bars | None:
    """None where no stop's room is in doubt, or no rigs are to be drawn."""
    if not rigs:
        return None
    if not any(s.chosen.doubt is not None for s in made.stops):
        return None
    table = room_table(kit, observer=observer_of(kit.site))
    drawn = draw(kit, table.axes, dimensions_of(kit), rigs, seed)
    touched = np.zeros(rigs, dtype=bool)
    early: list[float] = []
    told = 0.0
    for stop in made.stops:
        doubt = stop.chosen.doubt
        if doubt is None:
            continue
        told += doubt["touch_chance"]
        side = 1 if stop.chosen.side == "east" else -1
        at = side, stop.start.hour_angle_h, stop.start.declination_deg
        lasts_h = (stop.end - stop.begin).total_seconds() / 3600.0
        possible = doubt["touch_possible"]
        until = stop.begin if possible is None else datetime.fromisoformat(possible)
        until_h = (until - stop.begin).total_seconds() / 3600.0
        last_h = max(lasts_h, until_h)
        hours = np.linspace(0.0, last_h, max(2, int(last_h / STEP_H) + 2))
        first_h = first_touch_h(drawn, *at, hours)
        touched |= first_h <= lasts_h
        if possible is not None:
            early.append(float((first_h <= until_h).mean()))
    return Bars(allowed_chance(kit), float(touched.mean()), told, tuple(early), rigs)


def bars_wrong(bars: Bars) -> list[str]:
    """Rigs that touch at a stop are no more than the kit allows, as far as so many can tell."""
    expected = max(bars.allowed, bars.told)
    slack = SIGMAS * np.sqrt(expected * (1.0 - expected) / bars.rigs) + 1.0 / bars.rigs
    if bars.drawn > expected + slack:
        return [f"{bars.drawn:.1%} of rigs drawn touch at a stop, {bars.told:.1%} told"]
    return []
