"""What do rooms with their errors cost inside an evening?

python benchmarks/sure_evening.py [--repeats 3] [--rooms]

Whole evenings of the demo kits, planned quickly. Told is the processor time of what error bars ask
for: the chances of a touch that the order is judged by, the doubt of each stop's room, and what to
measure first; orders themselves apart. `--rooms` prints each room's figures to the minute, so that
two states of the code can be compared.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

from axletree.evening.sheet import answer as sheet_answer
from axletree.evening.sheet import sure_order
from axletree.evening.sheet.answer import EveningAnswer
from axletree.kit.kit import demo_kit
from axletree.stages.night.evening import EveningRequest, evening

EVENINGS = (("courtyard", date(2026, 12, 5)), ("paddock", date(2026, 9, 5)))
ASKED = (
    (sure_order._Touches, "of"),
    (sheet_answer, "with_sure_rooms"),
    (sheet_answer, "measure_first"),
)


SAID = "questions of touches", "rooms", "measure first"


class Timed:
    """A function that adds up its processor time."""

    def __init__(self, work: Callable[..., Any]) -> None:
        self.work, self.took_s, self.calls = work, 0.0, 0

    def __get__(self, owner: object, kind: type) -> Callable[..., Any]:
        """As a method."""
        return lambda *args: self(owner, *args)

    def __call__(self, *args: Any, **more: Any) -> Any:
        begin = time.process_time()
        found = self.work(*args, **more)
        self.took_s += time.process_time() - begin
        self.calls += 1
        return found


def planned(kit_name: str, day: date) -> tuple[EveningAnswer, list[Timed], float]:
    """An evening, what it asked for error bars, and its whole processor time in seconds."""
    kit = demo_kit(kit_name)
    timed = [Timed(getattr(module, name)) for module, name in ASKED]
    try:
        for (module, name), one in zip(ASKED, timed, strict=True):
            setattr(module, name, one)
        begin = time.process_time()
        found = evening(
            kit, EveningRequest(day=day, made_at=datetime(2026, 11, 29, 12, tzinfo=UTC))
        )
        return found, timed, time.process_time() - begin
    finally:
        for (module, name), one in zip(ASKED, timed, strict=True):
            setattr(module, name, one.work)


def minutes(seconds: float | None) -> str:
    return "-" if seconds is None else f"{seconds / 60.0:.0f}"


def print_rooms(found: EveningAnswer) -> None:
    for stop in found.stops:
        doubt = stop.chosen.doubt
        told = "no doubt"
        if doubt is not None:
            telling = ", ".join(f"{t.name} {t.then_s / 60.0:.0f}" for t in doubt.tellings)
            told = (
                f"{minutes(doubt.early_s)} to {minutes(doubt.late_s)} min, touch from "
                f"{minutes(doubt.touch_s)} ({100.0 * doubt.touch_chance:.1f} %) "
                f"{' / '.join(doubt.parts)}; eye {1000.0 * doubt.eye_sigma_m:.0f} mm; {telling}"
            )
        print(f"  {stop.begin:%H:%M} {stop.name} {stop.chosen.side}: {told}")
    for one in found.measure_first:
        print(f"  measure {one.name}: {minutes(one.before_s)} to {minutes(one.after_s)} min")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=3)
    parser.add_argument("--rooms", action="store_true")
    asked = parser.parse_args()
    for kit_name, day in EVENINGS:
        runs = [planned(kit_name, day) for _ in range(asked.repeats)]
        found, timed, whole_s = min(runs, key=lambda run: sum(one.took_s for one in run[1]))
        parts = ", ".join(
            f"{said} {1e3 * one.took_s:.0f} ms ({one.calls})"
            for said, one in zip(SAID, timed, strict=True)
        )
        print(
            f"{kit_name} {day}, {len(found.stops)} stops: "
            f"{1e3 * sum(one.took_s for one in timed):.0f} ms of {whole_s:.2f} s ({parts})"
        )
        if asked.rooms:
            print_rooms(found)


if __name__ == "__main__":
    main()
