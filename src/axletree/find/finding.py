"""How is one object found on one tube side: where to look, from which star, by which way, what
then?

Every way there is, each with its chance, and the one to try first. The chances are assumed ones
until a log has learned how this person finds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum

from axletree.find.hopping.answer import HopAnswer, HopOutcome, HopQuestion
from axletree.find.hopping.help import hop_with_help
from axletree.find.hopping.hop import OFFERED, hop
from axletree.find.hopping.way import HopSight
from axletree.find.naked_eye import WhereToLook, where_to_look
from axletree.find.parallel import Parallel, parallels
from axletree.find.patch import Patch
from axletree.find.person import wrong_named_star
from axletree.find.practice.applied import learned_hop, learned_parallel, learned_steps
from axletree.find.practice.learned import LearnedFinding
from axletree.find.scene import FindingQuestion, FindingViews, Scene
from axletree.find.start_star import (
    StartRefusal,
    StartStar,
    star_named,
    start_by_circles,
    start_here,
    start_stars,
)
from axletree.find.steps import Steps, StepsRefusal, steps
from axletree.find.turning.by_circles import by_circles
from axletree.find.turning.sweep import Sweep, SweepRefusal, sweep
from axletree.kit.frozen import dataclass
from axletree.sky.catalogue.star_names import names_of


class FindBy(Enum):
    """Ways of getting an object into the eyepiece, the plainest first."""

    BARE_EYE = "bare_eye"  # it is seen without any glass: point the finder at it
    IN_FINDER = "in_finder"  # it shows in the finder itself
    STEPS = "steps"  # counted turns from a bright star
    HOP = "hop"  # star by star through the finder; its chance says whether it is sure enough
    PARALLEL = "parallel"  # a star of the same declination, then one knob or patience
    CIRCLES = "circles"  # both circles from a star, into the finder's field
    CIRCLES_AS_SET = "circles_as_set"  # both circles as they stand; it shows in the finder


@dataclass(frozen=True)
class Finding:
    """All ways to one object. `first` is the way to try first, None where no chance is fair.

    `star_names` holds the names of the listed stars that are told of, by catalogue number.
    `sweep` searches around where the steps end. `sky_patch` are the stars that `where`
    counts, `near_patch` those of the hop (None where none was asked for, or briefly).
    `north_deg`: where the finder shows north with a star of the hop in its middle, clockwise from
    the top, by catalogue number: the sky turns from field to field.
    `learned` is what the chances of turns and hop come from, None: they are assumed.
    """

    where: WhereToLook
    start: StartStar | StartRefusal | None
    steps: Steps | StepsRefusal | None
    parallel: Parallel | None
    hop: HopAnswer | None
    sweep: Sweep | SweepRefusal | None
    views: FindingViews
    first: FindBy | None
    chance: float | None
    star_names: dict[int, tuple[str, ...]]
    sky_patch: Patch
    near_patch: Patch | None
    north_deg: Mapping[int, float] = field(default_factory=dict)
    learned: LearnedFinding | None = None


def finding(question: FindingQuestion) -> Finding:
    """Every way to the object, the views on the way, and which way to try first.

    Refuses (in one sentence) a start star whose name nobody knows; why a known one can't serve is
    in `Finding.start`.
    """
    scene = Scene(question)
    where = where_to_look(scene.wide, scene.limit(scene.eye), question.horizon)
    start, turned = _by_turns(scene)
    enough = question.brief and _fair_already(scene, turned)
    hopped = None if enough and not scene.asks_finder else _by_hop(scene, start)
    hopped = learned_hop(hopped, question.learned)
    beside = None if enough else next(iter(parallels(scene.seeking, 1)), None)
    parallel = learned_parallel(beside, question.learned)
    first, chance = _first(scene, start, turned, parallel, hopped)
    told = [int(scene.wide.stars.number[g.star_index]) for g in where.guides]
    if hopped is not None:
        told += _numbers(hopped)
    return Finding(
        where=where, start=start, steps=turned, parallel=parallel, hop=hopped,
        sweep=None if question.brief else _search(scene, start, turned),
        views=scene.views(), first=first, chance=chance,
        star_names={n: names_of(n) for n in told if n > 0}, sky_patch=scene.wide,
        near_patch=None if hopped is None or question.brief else scene.near,
        north_deg={} if hopped is None else _norths(scene, hopped), learned=question.learned,
    )  # fmt: skip


def _fair_already(scene: Scene, turned: Steps | StepsRefusal | None) -> bool:
    """Whether the bare eye or counted turns are a fair way."""
    by_turns = isinstance(turned, Steps) and turned.by_turns.eyepiece >= OFFERED
    return scene.by_bare_eye or by_turns


def _by_turns(
    scene: Scene,
) -> tuple[StartStar | StartRefusal | None, Steps | StepsRefusal | None]:
    """The beginning and the turns from there: what is in view where that is fair, else a star."""
    seeking, q = scene.seeking, scene.question
    here = None if q.in_view is None else start_here(seeking, q.in_view)
    near = _turns_from(scene, here)
    if isinstance(near, Steps) and near.by_turns.eyepiece >= OFFERED:
        return here, near
    start: StartStar | StartRefusal | None
    if q.start is not None:
        start = star_named(seeking, q.start)
    else:
        best = start_stars(seeking, 1)
        start = best[0] if best else _by_finder(scene)
    return start, _turns_from(scene, start)


def _turns_from(
    scene: Scene, start: StartStar | StartRefusal | None
) -> Steps | StepsRefusal | None:
    if not isinstance(start, StartStar):
        return None
    unmistaken = start.in_view or _led_by_circles(start)
    known = None if unmistaken else start.magnitude_v
    led = 1.0 if start.by_circles is None else start.by_circles.chance
    turned = steps(scene.seeking.mounted, start.place, known, scene.place, found_star=led)
    return learned_steps(turned, scene.question.learned)


def _by_finder(scene: Scene) -> StartStar | None:
    """A star to begin at that the circles bring into the finder, where the eye alone sees none."""
    finder = scene.hop_finder
    if finder is None or scene.by_day:
        return None
    return start_by_circles(scene.seeking, scene.limit(finder) + scene.lost_mag)


def _led_by_circles(start: StartStar | StartRefusal | None) -> bool:
    return isinstance(start, StartStar) and start.by_circles is not None


def _alone_by_circles(scene: Scene, start: StartStar | StartRefusal | None) -> float | None:
    """The chance that both circles as they stand bring the object into the finder, where it shows
    there; None by day, and where a star that the bare eye knows is the surer beginning."""
    seen = isinstance(start, StartStar) and not _led_by_circles(start)
    if seen or scene.by_day or not scene.question.shows_in_finder:
        return None
    led = by_circles(scene.seeking.mounted, scene.place, scene.question.arrival)
    return None if led is None else led.chance


def _search(
    scene: Scene, start: StartStar | StartRefusal | None, turned: Steps | StepsRefusal | None
) -> Sweep | SweepRefusal | None:
    if not isinstance(start, StartStar) or not isinstance(turned, Steps):
        return None
    return sweep(scene.seeking.mounted, start.place, scene.place, turned.by_turns)


def _by_hop(scene: Scene, start: StartStar | StartRefusal | None) -> HopAnswer | None:
    asked = _hop_question(scene, start)
    if asked is None:
        return None
    return hop_with_help(asked) if scene.question.with_helps else hop(asked)


def _hop_question(scene: Scene, start: StartStar | StartRefusal | None) -> HopQuestion | None:
    """None without a finder that magnifies."""
    finder, q = scene.hop_finder, scene.question
    if finder is None:
        return None
    above = None
    if q.horizon is not None:
        above = scene.near.star_altitude_deg > q.horizon.altitude_at(scene.near.star_azimuth_deg)
    wanted = start.hip if q.start is not None and isinstance(start, StartStar) else None
    sight = HopSight(
        finder_field_deg=finder.true_field_deg,
        finder_limit_mag=scene.limit(finder),
        bare_eye_limit_mag=scene.limit(scene.eye),
        eyepiece_field_deg=scene.weakest.true_field_deg,
    )
    return HopQuestion(
        scene.near, q.observer.latitude_deg, sight, scene.skill,
        object_shows=q.shows_in_finder, start=wanted, open_sky=above,
    )  # fmt: skip


def _first(
    scene: Scene, start: StartStar | StartRefusal | None, turned: Steps | StepsRefusal | None,
    parallel: Parallel | None, hopped: HopAnswer | None,
) -> tuple[FindBy | None, float | None]:  # fmt: skip
    """The plainest way whose chance is fair, else the likeliest; its chance."""
    if scene.by_bare_eye:
        return FindBy.BARE_EYE, 1.0 - float(
            wrong_named_star(scene.question.magnitude_v or 0.0, scene.skill)
        )
    alone = _alone_by_circles(scene, start)
    if alone is not None and alone >= OFFERED:
        return FindBy.CIRCLES_AS_SET, alone
    ways: list[tuple[FindBy, float]] = []
    if hopped is not None and hopped.outcome is HopOutcome.SHOWS and hopped.chance is not None:
        ways.append((FindBy.IN_FINDER, hopped.chance))
    if isinstance(turned, Steps):
        ways.append((FindBy.STEPS, turned.by_turns.eyepiece))
    led = (HopOutcome.HOP, HopOutcome.UNSURE)  # an unsure one only where nothing else is better
    if hopped is not None and hopped.outcome in led and hopped.chance is not None:
        ways.append((FindBy.HOP, hopped.chance))
    if parallel is not None:
        ways.append((FindBy.PARALLEL, parallel.best))
    known = scene.question.shows_in_finder or not _led_by_circles(start)
    if known and isinstance(turned, Steps) and turned.by_circles.finder is not None:
        ways.append((FindBy.CIRCLES, turned.by_circles.finder))
    if not ways:
        return None, None
    fair = [way for way in ways if way[1] >= OFFERED and way[0] is not FindBy.CIRCLES]
    return fair[0] if fair else max(ways, key=lambda way: way[1])


def _norths(scene: Scene, hopped: HopAnswer) -> dict[int, float]:
    """Where north is in the finder at each star of the hop."""
    stars = [step.present for step in hopped.steps]
    stars += [] if hopped.start is None else [hopped.start]
    return {star.number: scene.north_at(star.row) for star in stars}


def _numbers(hopped: HopAnswer) -> list[int]:
    """Catalogue numbers of every star that a hop tells of."""
    stars = [step.present for step in hopped.steps]
    stars += [step.following for step in hopped.steps if step.following is not None]
    stars += [hopped.start] if hopped.start is not None else []
    return [star.number for star in stars] + [
        partner.number for star in stars for partner in star.pattern.partners
    ]
