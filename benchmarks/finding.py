"""How long does finding an object take to work out, and how surely is it found?

python benchmarks/finding.py [--repeat 5]

Every Messier object above the lowest altitude at both demo sites, two nights: best star, steps,
a star on the parallel, search. Processor time of one process, the best of so many repeats; the
table of the rig's room is made once before. Chances are those of a practised person whose axis
is 15 arcminutes off.

2026-11-29, 2 shared, busy processors, 167 objects, middle (worst): best star 9 (20) ms, steps 5.5
(7.8), parallel 5 (36), search 2.7 (3.8); by turns 0.96 (mean 0.95), by circles 0.35.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import numpy as np

from axletree.axis.model import unmeasured
from axletree.evening.objects.looks import looks_of_each
from axletree.evening.stops.to_find import is_driven, with_looks
from axletree.find.finding import finding
from axletree.find.instruments import InstrumentKind, instruments_of
from axletree.find.parallel import parallels
from axletree.find.person import skill_of
from axletree.find.scene import FindingQuestion
from axletree.find.start_star import start_stars
from axletree.find.steps import Steps, steps
from axletree.find.turning.knobs import Mounted
from axletree.find.turning.seeking import Seeking, SkyLight
from axletree.find.turning.shafts import SkyPlace
from axletree.find.turning.sweep import Sweep, sweep
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.room.table import room, room_table
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

NIGHTS = {
    "courtyard": [datetime(2026, 8, 12, 22, tzinfo=UTC), datetime(2027, 2, 6, 22, tzinfo=UTC)],
    "paddock": [datetime(2026, 8, 12, 10, tzinfo=UTC), datetime(2027, 2, 6, 11, tzinfo=UTC)],
}


def asked(kit: Kit, at: datetime) -> list[Seeking]:
    """Each object on a tube side on which it can be shown, the longer room first."""
    observer = observer_of(kit.site)
    table = room_table(kit, observer=observer)
    things = [find(f"M{k}") for k in range(1, 111)]
    when = Instants.from_datetime(at)
    seen = object_positions(things, when, observer)
    rooms = room(table, seen.hour_angle_h[:, 0], seen.declination_deg[:, 0])
    tools = instruments_of(kit)
    weakest = next(t for t in tools if t.kind is InstrumentKind.EYEPIECE)
    finder = next((t for t in tools if t.kind is InstrumentKind.FINDER), None)
    light = SkyLight(kit.site.sky_brightness_mag_arcsec2 or 20.5, 0.25)
    found = []
    for k in range(len(things)):
        if not rooms.usable[:, k].any():
            continue
        side = 1 if rooms.room_h[0, k] >= rooms.room_h[1, k] else -1
        mounted = Mounted(
            kit, observer, unmeasured(15.0, 15.0), side, kit.mount.motion == "motor",
            skill_of("practised"), weakest.true_field_deg,
            None if finder is None else finder.true_field_deg,
        )  # fmt: skip
        place = SkyPlace.of(seen.hour_angle_h[k], seen.declination_deg[k])
        found.append(Seeking(mounted, table, place, when, light))
    return found


def questions(kit: Kit, at: datetime) -> list[FindingQuestion]:
    """The same objects as whole findings ask for them, with views and hop."""
    observer, when = observer_of(kit.site), Instants.from_datetime(at)
    things = [find(f"M{k}") for k in range(1, 111)]
    table = room_table(kit, observer=observer)
    seen = object_positions(things, when, observer)
    rooms = room(table, seen.hour_angle_h[:, 0], seen.declination_deg[:, 0])
    made = []
    for k, looks in enumerate(looks_of_each(things)):
        if rooms.usable[:, k].any():
            asked_for = FindingQuestion(
                kit=kit, observer=observer, arrival=when, target=things[k],
                side=1 if rooms.room_h[0, k] >= rooms.room_h[1, k] else -1, table=table,
                model=unmeasured(15.0, 15.0), sky=SkyLight(0.0, 0.0), driven=is_driven(kit),
            )  # fmt: skip
            made.append(with_looks(asked_for, looks))
    return made


def whole(question: FindingQuestion, repeat: int) -> dict[str, float]:
    """Times of everything that a stop of an evening needs, and of every way there is."""
    brief, _ = taken(repeat, lambda: finding(replace(question, brief=True)))
    every, _ = taken(repeat, lambda: finding(question))
    return {"a stop's ways and views, ms": brief, "every way and views, ms": every}


def taken(repeat: int, make: Callable[[], Any]) -> tuple[float, Any]:
    """Processor milliseconds of one call, the best of some, and what it returned."""
    times = []
    for _ in range(repeat):
        begin = time.process_time()
        made = make()
        times.append((time.process_time() - begin) * 1000.0)
    return min(times), made


def measured(seeking: Seeking, repeat: int) -> dict[str, float]:
    """Times and chances of one object."""
    out: dict[str, float] = {}
    out["best star, ms"], stars = taken(repeat, lambda: start_stars(seeking, 1))
    out["parallel, ms"], along = taken(repeat, lambda: parallels(seeking))
    out["has a star"], out["has a parallel"] = float(bool(stars)), float(bool(along))
    if along:
        out["by the parallel"] = along[0].best
    if not stars:
        return out
    star = stars[0]
    out["steps, ms"], way = taken(
        repeat, lambda: steps(seeking.mounted, star.place, star.magnitude_v, seeking.thing)
    )
    if not isinstance(way, Steps):
        return out
    out["by turns"], out["by circles"] = way.by_turns.eyepiece, way.by_circles.eyepiece
    if way.by_circles.finder is not None:
        out["by circles in the finder"] = way.by_circles.finder
    out["search, ms"], legs = taken(
        repeat, lambda: sweep(seeking.mounted, star.place, seeking.thing, way.by_turns)
    )
    if isinstance(legs, Sweep):
        out["search, legs"], out["searched"] = len(legs.legs), legs.chance
    return out


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeat", type=int, default=5)
    args = parser.parse_args()
    rows = [
        measured(seeking, args.repeat)
        for name, nights in NIGHTS.items()
        for at in nights
        for seeking in asked(demo_kit(name), at)
    ]
    rows += [
        whole(question, args.repeat)
        for name, nights in NIGHTS.items()
        for at in nights
        for question in questions(demo_kit(name), at)
    ]
    print(f"{len(rows) // 2} objects, the best of {args.repeat} repeats each")
    print(f"{'':28} {'mean':>8} {'middle':>8} {'worst':>8}")
    for key in dict.fromkeys(key for row in rows for key in row):
        values = np.array([row[key] for row in rows if key in row])
        worst = values.max() if key.endswith(("ms", "legs")) else values.min()
        print(f"{key:28} {values.mean():8.3f} {np.median(values):8.3f} {worst:8.3f}")


if __name__ == "__main__":
    main()
