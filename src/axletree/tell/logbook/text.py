"""In which sentences is told what the logbook brings into an answer: learned bolts, repeats?"""

from __future__ import annotations

from axletree.evening.people.seen_lately import SeenLately
from axletree.kit.errors import KeptAside
from axletree.logbook.learned import BoltLesson, LearnedBolt
from axletree.logbook.own import Learned
from axletree.tell.shared.words import bar, day_words


def kept_aside_words(record: KeptAside) -> str:
    """That a record was damaged and begun anew."""
    return f"{record.path} is damaged; it was kept as {record.kept_as} and a new one begun"


def _damaged(record: KeptAside | None) -> tuple[str, ...]:
    return () if record is None else (kept_aside_words(record),)


def learned_words(learned: Learned) -> tuple[str, ...]:
    """What the logbook learned of the bolts, a sentence each."""
    if learned.refusal is not None:
        return (f"nothing learned from the logbook: {learned.refusal}",)
    return (*_damaged(learned.kept_aside), *map(_bolt_words, learned.bolts))


def _bolt_words(one: LearnedBolt) -> str:
    learned = one.learned
    if one.lesson == BoltLesson.OTHER_DIRECTION:
        way = "lowers" if learned.turns_per_degree < 0.0 else "raises"
        return f"altitude bolt: by the logbook, clockwise {way} the axis: check it"
    bolt = {"altitude": "altitude", "azimuth": "azimuth"}[one.bolt]
    of = f"{learned.count} turn{'s' if learned.count > 1 else ''} in the logbook"
    figure = f"{abs(learned.turns_per_degree):.2f} ± {bar(learned.sigma, 2)} turns a degree"
    kit = f"{one.kit_turns_per_degree:.2f}"
    if one.lesson == BoltLesson.REPLACES_GUESS:
        return f"{bolt} bolt: {figure}, learned from {of} (guessed: {kit})"
    return f"{bolt} bolt: {of} say {figure}, your kit says {kit}: check it"


def repeats_words(seen: SeenLately) -> tuple[str, ...]:
    """What is said of objects that were shown lately; nothing where none were."""
    if seen.refusal is not None:
        return (f"repeats are not avoided: {seen.refusal}",)
    note = _damaged(seen.kept_aside)
    if not seen.keys:
        return note
    count = f"{len(seen.keys)} object{'s' if len(seen.keys) > 1 else ''}"
    since = day_words(seen.since)
    return (*note, f"{count} shown since {since} to the same people (logbook) count less this time")
