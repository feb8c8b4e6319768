"""How near does the moment of a possible touch come to that of rigs drawn, and what does it cost?

python benchmarks/sure_rooms.py [--rigs 20000] [--spread 0.1] [--stops 10]

Rooms that contact ends, drawn at random on the courtyard kit, every length known to the given share
of it. The rigs are built one by one and followed by other code (tests/mount/rigs_drawn.py). Told
are minutes from now: the 5 % moment here and there, the width of 68 %, and the processor time.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from axletree.kit.kit import demo_kit
from axletree.mount.room.choice import choose
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room, room_table
from axletree.mount.sure.room_doubt import SkyCourse, room_doubt
from axletree.mount.sure.spread import RigSpread
from mount.rigs_drawn import draw, first_touch_h, lengths_known_to

BEYOND_H, STEP_H, AT_ONCE = 3.0, 0.125, 1000


def ended_by_contact(table: RoomTable, count: int, seed: int) -> list[tuple[int, float, float]]:
    """Side, hour angle and declination of so many rooms that contact ends after 15 minutes."""
    rng = np.random.default_rng(seed)
    found: list[tuple[int, float, float]] = []
    while len(found) < count:
        side, H, d = int(rng.integers(2)), rng.uniform(-4.0, 3.0), rng.uniform(-25.0, 60.0)
        here = room(table, H, d)
        if here.usable[side] and here.ends[side] == CONTACT and 0.25 < here.room_h[side] < 8.0:
            found.append((side, H, d))
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=20000)
    parser.add_argument("--spread", type=float, default=0.1)
    parser.add_argument("--stops", type=int, default=10)
    asked = parser.parse_args()
    kit = demo_kit("courtyard")
    table = room_table(kit)
    known = lengths_known_to(kit, asked.spread)
    spread = replace(RigSpread.of(kit, table), known=known)
    begin = time.process_time()
    assert spread.slopes.height.size
    print(f"slopes of all parts: {(time.process_time() - begin) * 1e3:.0f} ms")
    drawn = draw(kit, table.axes, known, asked.rigs, seed=8)
    good = 0
    for side, H, d in ended_by_contact(table, asked.stops, seed=5):
        answer = choose(kit, table, H, d).sides[side]
        begin = time.process_time()
        doubt = room_doubt(spread, table, answer, SkyCourse(H, d, HOURS_PER_SECOND))
        took_ms = (time.process_time() - begin) * 1e3
        assert doubt is not None
        hours = np.arange(0.0, answer.room_h + BEYOND_H, STEP_H)
        first = np.concatenate([
            first_touch_h(
                replace(drawn, rigs=drawn.rigs[k : k + AT_ONCE]), (1, -1)[side], H, d, hours
            )
            for k in range(0, asked.rigs, AT_ONCE)
        ]) / HOURS_PER_SECOND / 60.0  # fmt: skip
        early, low, high = np.quantile(first, (0.05, 0.16, 0.84), method="higher")
        width = min(high, 60.0 * (answer.room_h + BEYOND_H)) - low
        here = np.inf if doubt.touch_s is None else doubt.touch_s / 60.0
        off = abs(here - early) if here != early else 0.0
        least, share = (5.0, 0.1) if asked.spread <= 0.1 else (15.0, 0.2)
        good += off <= max(least, share * width)
        print(
            f"side {'east' if side == 0 else 'west'}, hour angle {H:+.2f} h, declination {d:+.1f}: "
            f"{here:.1f} here, {early:.1f} drawn, width {width:.0f} min; {took_ms:.1f} ms"
        )
    print(f"within the limit: {good} of {asked.stops}")


if __name__ == "__main__":
    main()
