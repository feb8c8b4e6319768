"""What do three notes of gaps bring, and are the errors after them honest?

python benchmarks/learned_gaps.py [--rigs 2000] [--seed 1]

Rigs are drawn from the errors of the courtyard kit's dimensions. Each is followed by other code
(tests/mount/noted_gaps.py) on three ways near that of a room that contact ends, until its parts are
0, 15 and 30 mm apart; those gaps are noted with their errors. Told: the error of the room's end
(root mean square, minutes), the half-width told, and how many of the true touches lie within what
68 % and 95 % of the rigs drawn say, before and after the notes.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from axletree.axis.model import unmeasured
from axletree.axis.state import State
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.learned.learn import learned_rig
from axletree.mount.rig.parts import Rig
from axletree.mount.room.choice import choose
from axletree.mount.room.table import HOURS_PER_SECOND, room_table
from axletree.mount.sure.room_doubt import RoomDoubt, SkyCourse, room_doubt
from axletree.mount.sure.spread import RigSpread
from mount.noted_gaps import AT, TONIGHT, noted_gap
from mount.rigs_drawn import DrawnRigs, draw, first_touch_h

# A side (0 east), hour angle and declination of rooms that tube and leg end; ways of the notes.
ROOMS = ((1, -3.0, 46.0), (0, -1.0, 30.0), (1, -2.0, 20.0))
STEP_H = 0.15


def doubt_of(kit: Kit, way: tuple[int, float, float]) -> RoomDoubt | None:
    table = room_table(kit, of_few=True)
    side, H, d = way
    answer = choose(kit, table, H, d).sides[side]
    return room_doubt(RigSpread.of(kit, table), table, answer, SkyCourse(H, d, HOURS_PER_SECOND))


def told(doubt: RoomDoubt) -> tuple[np.ndarray, float]:
    """Minutes: quantiles of the first touch, and the median."""
    first = np.where(np.isfinite(doubt.first_s), doubt.first_s, 1e6) / 60.0
    return np.quantile(first, (0.025, 0.16, 0.84, 0.975)), float(np.quantile(first, 0.5))


def touch_min(rig: Rig, axes: object, way: tuple[int, float, float]) -> float:
    side, H, d = way
    hours = np.arange(0.0, 10.0, STEP_H)
    one = DrawnRigs([rig], axes)  # type: ignore[arg-type]
    first = first_touch_h(one, (1, -1)[side], H, d, hours, 0.0, 0.15)[0]
    return float(first) / HOURS_PER_SECOND / 60.0


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    kit = demo_kit("courtyard")
    axes = room_table(kit, of_few=True).axes
    rng = np.random.default_rng(asked.seed)
    drawn = draw(kit, axes, dimensions_of(kit), asked.rigs, asked.seed)
    before_of = {way: doubt_of(kit, way) for way in ROOMS}
    rows, left_out, skipped = [], 0, 0
    for k, rig in enumerate(drawn.rigs):
        way = ROOMS[k % len(ROOMS)]
        side, H, d = way
        notes = [
            noted_gap(rig, axes, ((1, -1)[side], H - 0.5, d + off), gap, rng)
            for off, gap in ((-9.0, 15.0), (-3.0, 30.0), (3.0, 0.0))
        ]
        true = touch_min(rig, axes, way)
        if None in notes or not 0.0 < true < np.inf:
            skipped += 1
            continue
        state = State(
            unmeasured(0.0, 0.0),
            TONIGHT,
            AT,
            0,
            None,
            tuple(notes),
            TONIGHT,  # type: ignore[arg-type]
        )
        learned = learned_rig(kit, state)
        before, after = before_of[way], doubt_of(learned.kit, way)
        if after is None or before is None:
            skipped += 1
            continue
        left_out += len(learned.left_out)
        (a, middle), (b, then) = told(before), told(after)
        rows.append((true, middle, then, *a, *b, before.half_width_s / 60, after.half_width_s / 60))
    r = np.array(rows)
    true = r[:, 0]

    def share(low: int, high: int) -> float:
        return 100.0 * float(((r[:, low] <= true) & (true <= r[:, high])).mean())

    def rms(column: int) -> float:
        return float(np.sqrt((np.minimum(np.abs(r[:, column] - true), 600.0) ** 2).mean()))

    print(f"{len(r)} rigs, {skipped} without such notes, {left_out} notes left out")
    for name, at, first, width in (("before", 1, 3, 11), ("after", 2, 7, 12)):
        print(
            f"{name}: error {rms(at):.1f} min (median {np.median(abs(r[:, at] - true)):.1f}), "
            f"told ±{np.sqrt((r[:, width] ** 2).mean()):.1f}; within 68 %: "
            f"{share(first + 1, first + 2):.1f} %, within 95 %: {share(first, first + 3):.1f} %"
        )


if __name__ == "__main__":
    main()
