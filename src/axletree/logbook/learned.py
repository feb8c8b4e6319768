"""What does the record teach about the bolts: how many turns move the axis by a degree?

Each bolt turn that stands between two measurements of the axis (the latest before and the first
after it) gives one equation: turns = k * moved degrees. The estimate is the least-squares k
through the origin, weighted by the measurements' errors, with its standard deviation. Only
evenings with the same mount count, wherever it stood; a mount without a name goes by its kit's. A
demo kit teaches nothing.
"""

from __future__ import annotations

import functools
import math
import tomllib
from enum import Enum
from typing import Literal

from axletree.kit.frozen import dataclass
from axletree.kit.kit import DEMO_KITS, Kit, demo_text
from axletree.kit.parts.mount import Mount
from axletree.logbook.store import Logbook

Bolt = Literal["altitude", "azimuth"]

LEAST_TURNS = 0.05
# A learned figure replaces a guess when it is known this well, as a fraction (ours).
GOOD_ENOUGH = 0.25


@dataclass(frozen=True)
class TurnsPerDegree:
    """The learned figure, its standard deviation, and on how many turns it rests.

    Negative where clockwise moves the axis down (altitude) or west (a single azimuth bolt).
    """

    turns_per_degree: float
    sigma: float
    count: int


class BoltLesson(Enum):
    """What a learned figure means for the kit's own."""

    REPLACES_GUESS = "replaces_guess"
    CONTRADICTS_KIT = "contradicts_kit"
    # Clockwise lowers the axis where the kit says that it raises it, or the other way round.
    OTHER_DIRECTION = "other_direction"


@dataclass(frozen=True)
class LearnedBolt:
    """One lesson about one bolt; `kit_turns_per_degree` is what the kit says or guesses."""

    bolt: Bolt
    lesson: BoltLesson
    learned: TurnsPerDegree
    kit_turns_per_degree: float


@dataclass(frozen=True)
class _Then:
    """What a kit of the record says of its mount and bolts."""

    mount: tuple[str, str]
    pair: bool
    demo: bool


@dataclass(frozen=True)
class _Equation:
    turns: float
    moved_deg: float
    variance_deg2: float


def turns_per_degree(book: Logbook, bolt: Bolt, kit: Kit | None = None) -> TurnsPerDegree | None:
    """What the record says of one bolt; None until a turn stands between two measurements.

    With `kit`, only evenings count whose kit had its mount, by name and size. Azimuth is
    counted along the horizon: the axis's `east` angle divided by the cosine of the site's
    latitude. Opposed azimuth bolts are noted by the one that is tightened, always clockwise: of
    them only the amounts count, and moves within two standard deviations of nothing don't.
    """
    weight_sum = product = 0.0
    count = 0
    for one in _equations(book, bolt, None if kit is None else _mount_of(kit)):
        weight = 1.0 / max(one.variance_deg2, 1e-8)
        # moved = turns / k, so 1/k is the slope of moved on turns.
        weight_sum += weight * one.turns**2
        product += weight * one.turns * one.moved_deg
        count += 1
    if not count or product == 0.0:
        return None
    slope = product / weight_sum
    return TurnsPerDegree(1.0 / slope, 1.0 / (math.sqrt(weight_sum) * slope**2), count)


def with_learned_bolts(kit: Kit, book: Logbook) -> tuple[Kit, tuple[LearnedBolt, ...]]:
    """The kit with the bolts' true turns where its own are guessed, and the lessons.

    A figure that the person gave stays; where the record contradicts it, a lesson says so.
    """
    bolts, guessed = kit.mount.bolts, set(kit.guessed)
    better: dict[str, float] = {}
    lessons: list[LearnedBolt] = []
    names: tuple[Bolt, Bolt] = ("altitude", "azimuth")
    for bolt in names:
        key = f"{bolt}_turns_per_degree"
        learned = turns_per_degree(book, bolt, kit)
        if learned is None or learned.sigma > GOOD_ENOUGH * abs(learned.turns_per_degree):
            continue
        value, now = abs(learned.turns_per_degree), float(getattr(bolts, key))
        if f"mount.bolts.{key}" in guessed:
            better[key] = value
            lessons.append(LearnedBolt(bolt, BoltLesson.REPLACES_GUESS, learned, now))
        elif abs(value - now) > max(3.0 * learned.sigma, 0.1 * now):
            lessons.append(LearnedBolt(bolt, BoltLesson.CONTRADICTS_KIT, learned, now))
        if bolt == "altitude":
            lowers = learned.turns_per_degree < 0.0
            if lowers != (bolts.altitude_clockwise == "lowers"):
                lessons.append(LearnedBolt(bolt, BoltLesson.OTHER_DIRECTION, learned, now))
    if better:
        mount = kit.mount.model_copy(update={"bolts": bolts.model_copy(update=better)})
        left = tuple(g for g in kit.guessed if g.removeprefix("mount.bolts.") not in better)
        kit = kit.model_copy(update={"mount": mount, "guessed": left})
    return kit, tuple(lessons)


def _equations(book: Logbook, bolt: Bolt, mount: tuple[str, str] | None) -> list[_Equation]:
    column = "high" if bolt == "altitude" else "east"
    rows = book.connection.execute(
        f"SELECT t.{bolt}_turns AS turns, t.at, t.evening_id, e.latitude_deg, e.kit_toml "
        "FROM bolt_turn t JOIN evening e ON e.id = t.evening_id ORDER BY julianday(t.at), t.id"
    ).fetchall()
    found: list[_Equation] = []
    for row in rows:
        then = _then(row["kit_toml"])
        if mount is not None and (then.demo or then.mount != mount):
            continue
        if abs(row["turns"]) < LEAST_TURNS:
            continue
        around = []
        for order, compare in (("DESC", "<="), ("ASC", ">")):
            around.append(
                book.connection.execute(
                    f"SELECT {column}_arcmin AS value, {column}_variance_arcmin2 AS variance, at "
                    "FROM axis_measure WHERE evening_id = ? "
                    f"AND julianday(at) {compare} julianday(?) "
                    f"ORDER BY julianday(at) {order}, id {order} LIMIT 1",
                    (row["evening_id"], row["at"]),
                ).fetchone()
            )
        before, after = around
        if before is None or after is None or _other_turn_between(book, row, before, after):
            continue
        flat = math.cos(math.radians(row["latitude_deg"])) if bolt == "azimuth" else 1.0
        moved_deg = (after["value"] - before["value"]) / 60.0 / flat
        variance_deg2 = (after["variance"] + before["variance"]) / 3600.0 / flat**2
        turns = float(row["turns"])
        if bolt == "azimuth" and then.pair:
            if abs(moved_deg) < 2.0 * math.sqrt(variance_deg2):
                continue
            turns, moved_deg = abs(turns), abs(moved_deg)
        found.append(_Equation(turns, moved_deg, variance_deg2))
    return found


@functools.lru_cache(maxsize=64)
def _then(kit_toml: str) -> _Then:
    """The mount of a recorded kit; what it does not say is what a kit means by silence."""
    fields, pair = Mount.model_fields, True
    name, size = _UNNAMED, str(fields["size"].default)
    kit_name, mount = str(Kit.model_fields["name"].default), None
    try:
        raw = tomllib.loads(kit_toml)
        mount, kit_name = raw.get("mount"), str(raw.get("name", kit_name))
    except (tomllib.TOMLDecodeError, RecursionError):
        pass
    if isinstance(mount, dict):
        name, size = str(mount.get("name", name)), str(mount.get("size", size))
        bolts = mount.get("bolts", {})
        pair = bool(bolts.get("azimuth_pair", True)) if isinstance(bolts, dict) else True
    demo = any(kit_toml == demo_text(one) for one in DEMO_KITS)
    return _Then((_named(name, kit_name), size), pair, demo)


_UNNAMED = str(Mount.model_fields["name"].default)


def _mount_of(kit: Kit) -> tuple[str, str]:
    return _named(kit.mount.name, kit.name), str(kit.mount.size)


def _named(mount: str, kit: str) -> str:
    """What tells a mount from others: its name, or that of its kit where it has none."""
    return mount if mount != _UNNAMED else f"{mount} | {kit}"


def _other_turn_between(book: Logbook, row: object, before: object, after: object) -> bool:
    """True if more than this one turn of the bolts lies between the two measurements."""
    turn, first, last = dict(row), dict(before), dict(after)  # type: ignore[call-overload]
    found = book.connection.execute(
        "SELECT count(*) FROM bolt_turn WHERE evening_id = ? "
        "AND julianday(at) >= julianday(?) AND julianday(at) < julianday(?)",
        (turn["evening_id"], first["at"], last["at"]),
    ).fetchone()[0]
    return int(found) > 1


@dataclass(frozen=True)
class BoltsAnswer:
    """What the record teaches of each bolt; None where it teaches nothing yet."""

    altitude: TurnsPerDegree | None
    azimuth: TurnsPerDegree | None


def learned_of_bolts(book: Logbook, kit: Kit | None = None) -> BoltsAnswer:
    """The bolts' true turns per degree, of this kit's mount or of all mounts of the record."""
    return BoltsAnswer(
        turns_per_degree(book, "altitude", kit), turns_per_degree(book, "azimuth", kit)
    )
