"""What did past turns of the bolts teach, and where does the kit say otherwise?"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from axletree.kit.kit import Kit
from axletree.pole.correct.bolts import Bolt

# A learned figure replaces a guess when it is known this well, as a fraction (ours).
GOOD_ENOUGH = 0.25
# A given figure is doubted when it lies this far from the learned one: standard deviations, and
# as a part of itself (ours).
DOUBTFUL_SIGMAS, DOUBTFUL_PART = 3.0, 0.1


@dataclass(frozen=True)
class TurnsPerDegree:
    """The learned figure, its standard deviation, and on how many turns it rests.

    Negative where clockwise moves the axis down (altitude) or west (a single azimuth bolt).
    """

    turns_per_degree: float
    sigma: float
    count: int


@dataclass(frozen=True)
class LearnedBolts:
    """What is learned of a mount's bolts; None where nothing is."""

    altitude: TurnsPerDegree | None = None
    azimuth: TurnsPerDegree | None = None


NOTHING_LEARNED = LearnedBolts()


class Lesson(Enum):
    """What a learned figure does to the kit's: replace a guess, or contradict what was given."""

    REPLACES_GUESS = "replaces_guess"
    CONTRADICTS_KIT = "contradicts_kit"
    TURNS_OTHER_WAY = "turns_other_way"


@dataclass(frozen=True)
class BoltLesson:
    """One lesson with its figures; `kit_turns_per_degree` is what the kit said before."""

    lesson: Lesson
    bolt: Bolt
    learned: TurnsPerDegree
    kit_turns_per_degree: float

    @property
    def lowers(self) -> bool:
        """True where clockwise moves the axis down."""
        return self.learned.turns_per_degree < 0.0


def with_learned(kit: Kit, learned: LearnedBolts) -> tuple[Kit, tuple[BoltLesson, ...]]:
    """The kit with the bolts' learned turns where its own are guessed, and every lesson.

    A figure that the person gave stays; where what was learned contradicts it, a lesson says so.
    """
    bolts, guessed = kit.mount.bolts, set(kit.guessed)
    better: dict[str, float] = {}
    lessons: list[BoltLesson] = []
    for bolt, found in ((Bolt.ALTITUDE, learned.altitude), (Bolt.AZIMUTH, learned.azimuth)):
        if found is None or found.sigma > GOOD_ENOUGH * abs(found.turns_per_degree):
            continue
        key = f"{bolt.value}_turns_per_degree"
        value, now = abs(found.turns_per_degree), float(getattr(bolts, key))
        if f"mount.bolts.{key}" in guessed:
            better[key] = value
            lessons.append(BoltLesson(Lesson.REPLACES_GUESS, bolt, found, now))
        elif abs(value - now) > max(DOUBTFUL_SIGMAS * found.sigma, DOUBTFUL_PART * now):
            lessons.append(BoltLesson(Lesson.CONTRADICTS_KIT, bolt, found, now))
        lowers = found.turns_per_degree < 0.0
        if bolt is Bolt.ALTITUDE and lowers != (bolts.altitude_clockwise == "lowers"):
            lessons.append(BoltLesson(Lesson.TURNS_OTHER_WAY, bolt, found, now))
    if better:
        mount = kit.mount.model_copy(update={"bolts": bolts.model_copy(update=better)})
        left = tuple(g for g in kit.guessed if g.removeprefix("mount.bolts.") not in better)
        kit = kit.model_copy(update={"mount": mount, "guessed": left})
    return kit, tuple(lessons)
