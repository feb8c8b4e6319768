"""How is one object found on one tube side: where to look, from which star, by which way, what
then?

Every way there is, each with its chance, and the one to try first. The chances are assumed ones
until a log has learned how this person finds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from axletree.axis.model import PointingModel
from axletree.find.hopping.answer import HopAnswer, HopOutcome, HopQuestion
from axletree.find.hopping.help import hop_with_help
from axletree.find.hopping.hop import OFFERED, hop, way_radius_deg
from axletree.find.hopping.way import HopSight
from axletree.find.instruments import Instrument, InstrumentKind, instruments_of, limit_mag
from axletree.find.naked_eye import GUIDES_WITHIN_DEG, WhereToLook, where_to_look
from axletree.find.parallel import Parallel, parallels
from axletree.find.patch import Patch, patch_around
from axletree.find.person import skill_of, wrong_named_star
from axletree.find.seen_through import Seeing, views_of_object
from axletree.find.start_star import (
    StartRefusal,
    StartStar,
    recognised_mag,
    star_named,
    start_stars,
)
from axletree.find.steps import Steps, StepsRefusal, steps
from axletree.find.turning.knobs import Mounted
from axletree.find.turning.seeking import Seeking, SkyLight
from axletree.find.turning.shafts import SkyPlace
from axletree.find.turning.sweep import Sweep, SweepRefusal, sweep
from axletree.find.view import FieldView, PosedRig
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import axis_angles_of_vector
from axletree.mount.room.table import RoomTable
from axletree.sky.air.refraction import airmass
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.catalogue.stars_around import FAINTEST_MAG
from axletree.sky.directions import vector_from_azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

_PAST_LIMIT_MAG = 0.5  # a hop asks for stars a little past what the finder shows


class FindBy(Enum):
    """Ways of getting an object into the eyepiece, the plainest first."""

    BARE_EYE = "bare_eye"  # it is seen without any glass: point the finder at it
    IN_FINDER = "in_finder"  # it shows in the finder itself
    STEPS = "steps"  # counted turns from a bright star
    HOP = "hop"  # star by star through the finder
    PARALLEL = "parallel"  # a star of the same declination, then one knob or patience
    CIRCLES = "circles"  # both circles, into the finder's field


@dataclass(frozen=True)
class FindingQuestion:
    """An object to be found at `arrival` (the first instant), on one tube side of one mount.

    `side` +1 east, -1 west. `table` is the room table of the kit, `model` what is known of the
    mount's errors, `driven` whether a motor follows. `sky_mag_arcsec2` is the sky's brightness at
    the object, `extinction_mag_per_airmass` the air's share. `shows_in_finder`: the object itself
    shows there. `start`: the name of the star to begin with, None for the best. `diameter_deg` is
    the Moon's or a planet's; `magnitude_v` the object's where it has one. `planned_eyepiece` counts
    as `instruments.eyepieces_of` does. `with_helps`: also what would make an unsure hop sure, which
    takes several searches.
    """

    kit: Kit
    observer: Observer
    arrival: Instants
    target: SkyObject
    side: int
    table: RoomTable
    model: PointingModel
    sky: SkyLight
    driven: bool = False
    horizon: Horizon | None = None
    shows_in_finder: bool = False
    start: str | None = None
    diameter_deg: float | None = None
    magnitude_v: float | None = None
    planned_eyepiece: int | None = None
    with_helps: bool = False


@dataclass(frozen=True)
class FindingViews:
    """What the eye meets on the way: the bare eye's, the finder's or the sight's (None without
    one), the weakest eyepiece's and the planned one's (None where that is the weakest)."""

    bare_eye: FieldView
    finder: FieldView | None
    weakest: FieldView
    planned: FieldView | None


@dataclass(frozen=True)
class Finding:
    """All ways to one object. `first` is the way to try first, None where no chance is fair.

    `star_names` holds the names of the listed stars that are told of, by catalogue number.
    `sweep` searches around where the steps end. `sky_patch` are the stars that `where`
    counts, `near_patch` those of the hop and the views of finder and eyepieces.
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
    near_patch: Patch


def finding(question: FindingQuestion) -> Finding:
    """Every way to the object, the views on the way, and which way to try first.

    Refuses (in one sentence) a start star whose name nobody knows; why a known one can't serve is
    in `Finding.start`.
    """
    scene = _Scene(question)
    where = where_to_look(scene.wide, scene.limit(scene.eye), question.horizon)
    start, turned, parallel, searched = _by_turns(scene)
    hop_question = _hop_question(scene, start)
    asked = hop_with_help if question.with_helps else hop
    hopped = None if hop_question is None else asked(hop_question)
    first, chance = _first(scene, turned, parallel, hopped)
    told = [int(scene.wide.stars.number[g.star_index]) for g in where.guides]
    if hopped is not None:
        told += _numbers(hopped)
    return Finding(
        where=where, start=start, steps=turned, parallel=parallel, hop=hopped, sweep=searched,
        views=scene.views(), first=first, chance=chance,
        star_names={n: names_of(n) for n in told if n > 0}, sky_patch=scene.wide,
        near_patch=scene.near,
    )  # fmt: skip


class _Scene:
    """The stars about the object and the instruments, for one question."""

    def __init__(self, question: FindingQuestion) -> None:
        self.question = q = question
        self.skill = skill_of(q.kit.habits.observer)
        places = object_positions([q.target], q.arrival[:1], q.observer)
        self.azimuth_deg = float(places.azimuth_deg[0, 0])
        self.altitude_deg = float(places.altitude_deg[0, 0])
        self.place = SkyPlace.of(places.hour_angle_h[:, 0], places.declination_deg[:, 0])
        pieces = instruments_of(q.kit)
        self.eye = pieces[0]
        riding = [
            i for i in pieces if i.kind in (InstrumentKind.FINDER, InstrumentKind.PLAIN_SIGHT)
        ]
        self.finder = riding[0] if riding else None
        self.eyepieces = [i for i in pieces if i.kind is InstrumentKind.EYEPIECE]
        self.wide = self._patch(GUIDES_WITHIN_DEG, self.limit(self.eye))
        self.near = self._near()

    @property
    def hop_finder(self) -> Instrument | None:
        """The finder, where it magnifies."""
        return self.finder if self.finder is not None and self.finder.has_power else None

    @property
    def weakest(self) -> Instrument:
        """The eyepiece to find with."""
        return self.eyepieces[0]

    def limit(self, instrument: Instrument) -> float:
        """The faintest star that shows in it at the object's height, V outside the air."""
        sky = self.question.sky.sky_mag_arcsec2
        return limit_mag(instrument, sky, self._lost_mag, self.skill)

    @property
    def _lost_mag(self) -> float:
        """What the air takes at the object's height."""
        air = min(float(airmass(self.altitude_deg)), 40.0)
        return self.question.sky.extinction_mag_per_airmass * air

    def _near(self) -> Patch:
        finder = self.hop_finder
        reach = self.weakest.true_field_deg
        if finder is None:
            return self._patch(reach, FAINTEST_MAG)
        limit = max(self.limit(finder) + _PAST_LIMIT_MAG, 0.0)
        return self._patch(max(way_radius_deg(finder.true_field_deg), reach), limit)

    def _patch(self, radius_deg: float, limit: float) -> Patch:
        q = self.question
        return patch_around(
            self.azimuth_deg, self.altitude_deg, radius_deg, q.arrival, q.observer,
            min(limit, FAINTEST_MAG),
        )  # fmt: skip

    def mounted(self) -> Mounted:
        """The mount and who turns it."""
        q, finder = self.question, self.hop_finder
        return Mounted(
            kit=q.kit, observer=q.observer, model=q.model, side=q.side, driven=q.driven,
            skill=self.skill, eyepiece_field_deg=self.weakest.true_field_deg,
            finder_field_deg=None if finder is None else finder.true_field_deg,
        )  # fmt: skip

    def seeking(self) -> Seeking:
        """The same with the object and the room."""
        q = self.question
        return Seeking(self.mounted(), q.table, self.place, q.arrival[:1], q.sky)

    def views(self) -> FindingViews:
        """What the eye meets in each instrument."""
        q = self.question
        vector = vector_from_azimuth_altitude(self.azimuth_deg, self.altitude_deg)
        end_h, swing = axis_angles_of_vector(q.table.axes, q.side, vector)
        posed = PosedRig(q.table.rig, q.kit.tube, q.table.axes, float(end_h), float(swing))
        planned = [e for e in self.eyepieces[1:] if e.eyepiece_index == q.planned_eyepiece]
        riding = [] if self.finder is None else [self.finder]
        seeing = Seeing(q.sky.sky_mag_arcsec2, self._lost_mag, self.skill)
        seen = views_of_object(
            [self.eye, self.weakest, *riding, *planned], q.target, posed, q.arrival, q.observer,
            seeing, q.diameter_deg,
        )  # fmt: skip
        return FindingViews(
            bare_eye=seen[0], weakest=seen[1], finder=seen[2] if riding else None,
            planned=seen[-1] if planned else None,
        )  # fmt: skip

    def by_bare_eye(self) -> bool:
        """Whether anybody sees the object without any glass, and knows it: Moon, bright star."""
        V = self.question.magnitude_v
        if self.question.target.kind in ("moon", "sun"):
            return True
        if V is None or self.question.target.kind not in ("planet", "star", "double star"):
            return False
        return recognised_mag(self.seeking()) >= V


def _by_turns(
    scene: _Scene,
) -> tuple[
    StartStar | StartRefusal | None,
    Steps | StepsRefusal | None,
    Parallel | None,
    Sweep | SweepRefusal | None,
]:
    seeking = scene.seeking()
    named = scene.question.start
    start: StartStar | StartRefusal | None
    if named is not None:
        start = star_named(seeking, named)
    else:
        best = start_stars(seeking, 1)
        start = best[0] if best else None
    beside = parallels(seeking, 1)
    parallel = beside[0] if beside else None
    if not isinstance(start, StartStar):
        return start, None, parallel, None
    turned = steps(seeking.mounted, start.place, start.magnitude_v, scene.place)
    if not isinstance(turned, Steps):
        return start, turned, parallel, None
    return (
        start,
        turned,
        parallel,
        sweep(seeking.mounted, start.place, scene.place, turned.by_turns),
    )


def _hop_question(scene: _Scene, start: StartStar | StartRefusal | None) -> HopQuestion | None:
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
    scene: _Scene, turned: Steps | StepsRefusal | None, parallel: Parallel | None,
    hopped: HopAnswer | None,
) -> tuple[FindBy | None, float | None]:  # fmt: skip
    """The plainest way whose chance is fair, else the likeliest; its chance."""
    if scene.by_bare_eye():
        return FindBy.BARE_EYE, 1.0 - float(
            wrong_named_star(scene.question.magnitude_v or 0.0, scene.skill)
        )
    ways: list[tuple[FindBy, float]] = []
    if hopped is not None and hopped.outcome is HopOutcome.SHOWS and hopped.chance is not None:
        ways.append((FindBy.IN_FINDER, hopped.chance))
    if isinstance(turned, Steps):
        ways.append((FindBy.STEPS, turned.by_turns.eyepiece))
    if hopped is not None and hopped.outcome is HopOutcome.HOP and hopped.chance is not None:
        ways.append((FindBy.HOP, hopped.chance))
    if parallel is not None:
        ways.append((FindBy.PARALLEL, parallel.best))
    if isinstance(turned, Steps) and turned.by_circles.finder is not None:
        ways.append((FindBy.CIRCLES, turned.by_circles.finder))
    if not ways:
        return None, None
    fair = [way for way in ways if way[1] >= OFFERED and way[0] is not FindBy.CIRCLES]
    return fair[0] if fair else max(ways, key=lambda way: way[1])


def _numbers(hopped: HopAnswer) -> list[int]:
    """Catalogue numbers of every star that a hop tells of."""
    stars = [step.present for step in hopped.steps]
    stars += [step.following for step in hopped.steps if step.following is not None]
    stars += [hopped.start] if hopped.start is not None else []
    return [star.number for star in stars] + [
        partner.number for star in stars for partner in star.pattern.partners
    ]
