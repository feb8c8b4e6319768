"""How did this person find, set up and take down, with this rig, by the logbook?

Only evenings whose kit has the names of kit, mount and tube and the size of the tube of the kit
that asks: another rig teaches nothing, and a demo kit neither learns nor teaches.
"""

from __future__ import annotations

import functools
import tomllib
from dataclasses import replace
from pathlib import Path

from axletree.find.practice.learned import FoundBy, LearnedFinding, Try, learn
from axletree.find.practice.rig_work import RigWork, learn_work
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import DEMO_KITS, Kit, check_text, demo_text
from axletree.logbook.entries import FoundEntry, found_entry
from axletree.logbook.store import Logbook


def learned_finding(kit: Kit, path: Path | None) -> LearnedFinding | None:
    """What the logbook at `path` teaches of finding with this kit; None where it teaches nothing.

    Whoever asks with a demo kit passes None.
    """
    if path is None or not path.is_file():
        return None
    try:
        with Logbook(path) as book:
            tries, work = tries_with(book, kit), work_with(book, kit)
    except AxletreeError:
        return None
    if not tries and not work:
        return None
    return replace(learn(tries), work=learn_work(work))


def tries_with(book: Logbook, kit: Kit) -> list[Try]:
    """Every noted try with this rig, in the order of time.

    The last of the ways led there, those before it did not; where the object wasn't found, none.
    The minutes and the reckoned chance belong to a single way.
    """
    rows = book.connection.execute(
        "SELECT f.*, e.kit_toml FROM found f JOIN evening e ON e.id = f.evening_id "
        "ORDER BY julianday(f.at), f.id"
    ).fetchall()
    tries: list[Try] = []
    for row in rows:
        if rig_of_toml(row["kit_toml"]) != rig_of(kit):
            continue
        ways = [w for w in str(row["ways"]).split(",") if w in tuple(FoundBy)]
        for number, way in enumerate(ways):
            last = number == len(ways) - 1
            tries.append(
                Try(
                    FoundBy(way), bool(row["found"]) and last,
                    row["minutes"] if len(ways) == 1 else None,
                    row["chance"] if number == 0 else None,
                )
            )  # fmt: skip
    return tries


def work_with(book: Logbook, kit: Kit) -> list[tuple[RigWork, float]]:
    """Minutes of every noted set-up and take-down with this rig, in the order of time."""
    rows = book.connection.execute(
        "SELECT w.work, w.minutes, e.kit_toml FROM rig_work w "
        "JOIN evening e ON e.id = w.evening_id ORDER BY julianday(w.at), w.id"
    ).fetchall()
    return [
        (RigWork(row["work"]), float(row["minutes"]))
        for row in rows
        if rig_of_toml(row["kit_toml"]) == rig_of(kit)
    ]


def take_back_latest(book: Logbook, evening: int) -> FoundEntry | None:
    """Take back what was noted last of an evening's finds and misses; None: nothing was."""
    row = book.connection.execute(
        "SELECT * FROM found WHERE evening_id = ? ORDER BY id DESC LIMIT 1", (evening,)
    ).fetchone()
    if row is None:
        return None
    book.take_back(evening, row["uid"])
    return found_entry(row)


def rig_of(kit: Kit) -> str:
    """Which rig a kit is."""
    tube = kit.tube
    names = kit.name, kit.mount.name, tube.name
    return " | ".join((*names, f"{tube.aperture_mm:g}/{tube.focal_length_mm:g}"))


@functools.lru_cache(maxsize=64)
def rig_of_toml(kit_toml: str) -> str | None:
    """The same of a recorded kit; None for a demo kit, and for what is no kit any more."""
    if any(kit_toml == demo_text(name) for name in DEMO_KITS):
        return None
    try:
        kit, _ = check_text(kit_toml)
    except (AxletreeError, tomllib.TOMLDecodeError, RecursionError):
        return None
    return None if kit is None else rig_of(kit)
