"""What do three notes of gaps bring, and are the errors after them honest?

python benchmarks/learned_gaps.py [--rigs 600] [--seed 1]

Rigs are drawn from the errors of the courtyard kit's dimensions. Each is followed by other code
(tests/mount/rigs_drawn.py) on three ways near that of a room that contact ends, until its parts are
15, 30 and 0 mm apart; those gaps are noted with their errors, and not by which parts. Told, for all
rigs and for each room: the error of the room's printed end (minutes), the half-width told, and how
many of the true ends, and of the true touches, lie within what 68 % and 95 % of the rigs drawn say,
before the notes and after. Where many rigs drawn share a moment (no touch while the object is
followed), a true moment among them counts as one of them drawn by lot.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "tests"))

from axletree.axis.model import unmeasured
from axletree.axis.state import BY_OBJECT_DEG, GapNote, State
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.learned.learn import learned_rig
from axletree.mount.learned.narrow import SHAPE_ERROR_M
from axletree.mount.room.choice import choose
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.side_answer import SideAnswer
from axletree.mount.room.table import HOURS_PER_SECOND, room_table
from axletree.mount.sure.room_doubt import RoomDoubt, SkyCourse, room_doubt
from axletree.mount.sure.spread import RigSpread
from mount.noted_gaps import AT, TONIGHT
from mount.rigs_drawn import DrawnRigs, draw, first_touch_h

# Tube side (0 east), hour angle and declination of rooms that contact ends.
ROOMS = ((1, -3.0, 46.0), (1, 0.46, 32.1), (1, -2.0, 20.0))
# Declination from the room's and gap (mm) of the notes; half an hour earlier.
NOTES = ((-9.0, 15.0), (-3.0, 30.0), (3.0, 0.0))
ERROR_MM = 4.0
OBJECT = "star"  # it is followed until the gap is so small
FOLLOWED_H = np.arange(0.0, 10.0, 0.1)
BEYOND_H = 3.0


@dataclass(frozen=True)
class Told:
    """Of one rig: the true end and the true touch, seconds; what was said of them."""

    end_s: float
    printed_s: float
    half_width_s: float
    end_share: float  # of the rigs drawn that end before it
    touch_share: float


def said(kit: Kit, way: tuple[int, float, float]) -> tuple[SideAnswer, RoomDoubt | None]:
    """What a kit says of a room, and how sure it is."""
    table = room_table(kit, of_few=True)
    side, H, d = way
    answer = choose(kit, table, H, d).sides[side]
    course = SkyCourse(H, d, HOURS_PER_SECOND)
    return answer, room_doubt(RigSpread.of(kit, table), table, answer, course)


def told(
    answer: SideAnswer, doubt: RoomDoubt, true_s: tuple[float, float], rng: np.random.Generator
) -> Told:
    """What that is worth where the true end and touch are these."""
    last_h = answer.room_h + (BEYOND_H if answer.ends.by is CONTACT else 0.0)
    shares = [
        share(drawn, true, min(last_h, 12.0) / HOURS_PER_SECOND, rng)
        for drawn, true in zip((doubt.ends_s, doubt.first_s), true_s, strict=True)
    ]
    return Told(true_s[0], answer.room_h / HOURS_PER_SECOND, doubt.half_width_s, *shares)


def share(drawn: np.ndarray, true: float, last_s: float, rng: np.random.Generator) -> float:
    """Which share of the rigs drawn comes before a moment; equal ones by lot."""
    if true >= last_s:
        return float(rng.uniform((drawn < last_s).mean(), 1.0))
    return float(rng.uniform((drawn < true).mean(), (drawn <= true).mean()))


def noted(
    group: DrawnRigs, way: tuple[int, float, float], rng: np.random.Generator
) -> list[tuple[GapNote, ...] | None]:
    """The three notes of each rig; None where it never comes so near, or begins nearer."""
    side, H, d = way
    notes: list[list[GapNote | None]] = []
    for off, gap in NOTES:
        read = np.hypot(ERROR_MM, 1000.0 * SHAPE_ERROR_M) * rng.standard_normal(len(group.rigs))
        limit = (gap + read[:, np.newaxis]) / 1000.0
        when = first_touch_h(group, (1, -1)[side], H - 0.5, d + off, FOLLOWED_H, limit, 0.15)
        pose = BY_OBJECT_DEG * rng.standard_normal((2, len(when)))
        notes.append([
            GapNote(
                AT, TONIGHT, ("east", "west")[side], H - 0.5 + t + h / 15.0, d + off + w,
                BY_OBJECT_DEG, gap, ERROR_MM, OBJECT, "",
            ) if 0.0 < t < np.inf else None
            for t, h, w in zip(when.tolist(), *pose.tolist(), strict=True)
        ])  # fmt: skip
    return [
        None if None in three else three  # type: ignore[misc]
        for three in zip(*notes, strict=True)
    ]


def print_rows(name: str, rows: list[tuple[Told, Told]]) -> None:
    print(f"{name}: {len(rows)} rigs")
    for when, some in zip(("before", "after"), zip(*rows, strict=True), strict=True):
        off = np.array([abs(one.printed_s - min(one.end_s, 36000.0)) for one in some]) / 60.0
        widths = np.array([one.half_width_s for one in some]) / 60.0
        line = (
            f"  {when}: error rms {np.sqrt((off**2).mean()):.1f} min, median {np.median(off):.1f}; "
            f"told ±{np.sqrt((widths**2).mean()):.1f}, median {np.median(widths):.1f}"
        )
        for what in ("end", "touch"):
            shares = np.array([getattr(one, f"{what}_share") for one in some])
            inner = 100.0 * ((shares > 0.16) & (shares < 0.84)).mean()
            outer = 100.0 * ((shares > 0.025) & (shares < 0.975)).mean()
            line += f"; {what} within 68 %: {inner:.1f} %, within 95 %: {outer:.1f} %"
        print(line)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    kit = demo_kit("courtyard")
    table = room_table(kit, of_few=True)
    rng = np.random.default_rng(asked.seed)
    drawn = draw(kit, table.axes, dimensions_of(kit), asked.rigs, asked.seed)
    every: list[tuple[Told, Told]] = []
    left_out = skipped = 0
    for r, way in enumerate(ROOMS):
        side, H, d = way
        rows: list[tuple[Told, Told]] = []
        before = said(kit, way)
        group = DrawnRigs(drawn.rigs[r :: len(ROOMS)], table.axes)
        true = [
            first_touch_h(group, (1, -1)[side], H, d, FOLLOWED_H, limit, 0.15) / HOURS_PER_SECOND
            for limit in (table.margin_m, 0.0)
        ]
        for three, end, touch in zip(noted(group, way, rng), *true, strict=True):
            if three is None:
                skipped += 1
                continue
            state = State(unmeasured(0.0, 0.0), TONIGHT, AT, 0, None, three, TONIGHT)
            learned = learned_rig(kit, state)
            assert learned is not None
            both = [
                None if doubt is None else told(answer, doubt, (end, touch), rng)
                for answer, doubt in (before, said(learned.kit, way))
            ]
            if both[0] is None or both[1] is None:
                skipped += 1
                continue
            left_out += len(learned.left_out)
            rows.append((both[0], both[1]))
        print_rows(f"hour angle {H:+.2f} h, declination {d:+.1f}", rows)
        sys.stdout.flush()
        every += rows
    print_rows("all", every)
    print(f"{skipped} rigs without such notes, {left_out} notes left out")


if __name__ == "__main__":
    main()
