"""What stands around an object that is looked for, and with which instruments is it looked at?"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

from axletree.axis.model import PointingModel
from axletree.find.at_eyepiece.answer import AtEyepiece
from axletree.find.hopping.hop import way_radius_deg
from axletree.find.instruments import (
    Instrument,
    InstrumentKind,
    instruments_of,
    limit_mag,
    mounted_of,
)
from axletree.find.naked_eye import GUIDES_WITHIN_DEG
from axletree.find.patch import Patch, patch_around
from axletree.find.person import skill_of
from axletree.find.practice.learned import LearnedFinding
from axletree.find.seen_through import Seeing, views_of_object
from axletree.find.turning.knobs import Mounted
from axletree.find.turning.recognised import recognised_mag
from axletree.find.turning.seeking import Seeking, SkyLight
from axletree.find.turning.shafts import SkyPlace
from axletree.find.view import FieldView, PosedRig, turned_in
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import axis_angles_of_vector
from axletree.mount.room.table import RoomTable
from axletree.sky.air.refraction import airmass
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.catalogue.stars_around import FAINTEST_MAG
from axletree.sky.directions import vector_from_azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

_PAST_LIMIT_MAG = 0.5  # a hop asks for stars a little past what the finder shows


@dataclass(frozen=True)
class FindingQuestion:
    """An object to be found at `arrival` (the first instant), on one tube side of one mount.

    `side` +1 east, -1 west. `table` is the room table of the kit, `model` what is known of the
    mount's errors, `driven` whether a motor follows. `sky_mag_arcsec2` is the sky's brightness at
    the object, `extinction_mag_per_airmass` the air's share. `shows_in_finder`: the object itself
    shows there. `start`: the name of the star to begin with, None for the best. `diameter_deg` is
    the Moon's or a planet's; `magnitude_v` the object's where it has one. `planned_eyepiece` counts
    as `instruments.eyepieces_of` does. `learned` is what a log taught of
    this person. `in_view`: what the tube has in view before, on this side, to begin at where that
    is fair. `with_helps`: also what would make an unsure hop sure, which
    takes several searches. `brief`: no further way is worked out once a plain one is fair, no
    search, and the stars about a hop are not kept; for who plans many objects. `body`: what Moon,
    planet or pair show then.
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
    learned: LearnedFinding | None = None
    in_view: SkyObject | None = None
    brief: bool = False
    body: AtEyepiece | None = None


@dataclass(frozen=True)
class FindingViews:
    """What the eye meets on the way: the bare eye's, the finder's or the sight's (None without
    one), the weakest eyepiece's and the planned one's (None where that is the weakest)."""

    bare_eye: FieldView
    finder: FieldView | None
    weakest: FieldView
    planned: FieldView | None


class Scene:
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
        return limit_mag(instrument, sky, self.lost_mag, self.skill)

    @property
    def lost_mag(self) -> float:
        """What the air takes at the object's height."""
        air = min(float(airmass(self.altitude_deg)), 40.0)
        return self.question.sky.extinction_mag_per_airmass * air

    @cached_property
    def near(self) -> Patch:
        """The stars of the hop."""
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

    @cached_property
    def mounted(self) -> Mounted:
        """The mount and who turns it."""
        q = self.question
        return mounted_of(q.kit, q.observer, q.model, q.side, driven=q.driven)

    @cached_property
    def seeking(self) -> Seeking:
        """The same with the object and the room."""
        q = self.question
        return Seeking(self.mounted, q.table, self.place, q.arrival[:1], q.sky)

    def views(self) -> FindingViews:
        """What the eye meets in each instrument."""
        q = self.question
        vector = vector_from_azimuth_altitude(self.azimuth_deg, self.altitude_deg)
        end_h, swing = axis_angles_of_vector(q.table.axes, q.side, vector)
        posed = PosedRig(q.table.rig, q.kit.tube, q.table.axes, float(end_h), float(swing))
        planned = [e for e in self.eyepieces[1:] if e.eyepiece_index == q.planned_eyepiece]
        riding = [] if self.finder is None else [self.finder]
        seeing = Seeing(q.sky.sky_mag_arcsec2, self.lost_mag, self.skill, patches=self._at_hand())
        seen = views_of_object(
            [self.eye, self.weakest, *riding, *planned], q.target, posed, q.arrival, q.observer,
            seeing, q.diameter_deg,
        )  # fmt: skip
        seen = tuple(replace(view, body=q.body) for view in seen)
        return FindingViews(
            bare_eye=seen[0], weakest=seen[1], finder=seen[2] if riding else None,
            planned=seen[-1] if planned else None,
        )  # fmt: skip

    def _at_hand(self) -> dict[InstrumentKind, Patch]:
        """The stars that were looked up already and serve for views as well."""
        found = {}
        if self.eye.true_field_deg / 2.0 <= GUIDES_WITHIN_DEG:
            found[InstrumentKind.BARE_EYE] = self.wide
        finder, near = self.hop_finder, self.__dict__.get("near")  # None: no hop was asked for
        if finder is not None and near is not None:
            found[InstrumentKind.FINDER] = near.to(self.limit(finder))
        return found

    def north_at(self, row: int) -> float:
        """Where the finder shows north, clockwise from the top, with a star of `near` in its
        middle."""
        q, near = self.question, self.near
        assert self.hop_finder is not None
        azimuth, altitude = near.star_azimuth_deg[row], near.star_altitude_deg[row]
        middle = replace(near, azimuth_deg=float(azimuth), altitude_deg=float(altitude))
        vector = vector_from_azimuth_altitude(azimuth, altitude)
        end_h, swing = axis_angles_of_vector(q.table.axes, q.side, vector)
        posed = PosedRig(q.table.rig, q.kit.tube, q.table.axes, float(end_h), float(swing))
        return turned_in(self.hop_finder, middle, q.observer.latitude_deg, posed).north_deg

    @cached_property
    def by_day(self) -> bool:
        """Whether the Sun is up: then nothing is looked for by the circles alone."""
        return bool(self.seeking.sun.sun_is_up(self.question.arrival[:1])[0])

    @cached_property
    def by_bare_eye(self) -> bool:
        """Whether anybody sees the object without any glass, and knows it: Moon, bright star."""
        V = self.question.magnitude_v
        if self.question.target.kind in ("moon", "sun"):
            return True
        if V is None or self.question.target.kind not in (
            "planet", "star", "double star", "minor planet",
        ):  # fmt: skip
            return False
        seeking = self.seeking
        return recognised_mag(seeking.sky.sky_mag_arcsec2, seeking.mounted.skill) >= V

    @property
    def asks_finder(self) -> bool:
        """Whether the finder itself may show it to somebody who doesn't see it without."""
        return self.question.shows_in_finder and not self.by_bare_eye
