"""How far is the axis off? One measurement or all of tonight's in, the bolts to turn out."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np

from axletree.axis.frame import Pole
from axletree.ground.skyline.of_site import site_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.correct.advice import LEAST_TURN, Advice, Verdict, advise
from axletree.pole.correct.after_turning import Base
from axletree.pole.photographs.axis import with_clock
from axletree.pole.photographs.following import axis_by_one, axis_in_camera
from axletree.pole.photographs.shot import Shot
from axletree.pole.solution.candidates import MeasurableStars, stars_now
from axletree.pole.solution.combine import Combined, combine
from axletree.pole.solution.doubt import Doubt, DoubtKind, still_standing
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import Measured, Tonight, evening_of
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.observer import Observer, observer_of
from axletree.stages.set_up.axis_remarks import AxisMethod
from axletree.stages.set_up.check_findings import Finding, find
from axletree.stages.set_up.measurements import Measurement
from axletree.stages.set_up.pictures_finding import PicturesFinding

NOTHING_KNOWN = Tonight((), None, 0)
LARGEST_BASE_LEAN_DEG = 20.0
MOST_TURNS = 100.0


@dataclass(frozen=True)
class CheckRequest:
    """A measurement, or None for all that `known` holds; `known`: what was measured tonight before.

    A measurement that replaces an earlier one is asked for without that one among the known.
    `counts`: whether it will be kept, and so is weighed with the known. `good_arcmin`: the
    person's own tolerance instead of the kit's. `leans_to_pole_deg`, `leans_east_deg`: how far the
    base's vertical leans to the elevated pole and to the east. `kit_folder`: where the kit's own
    skyline lies.
    """

    at: datetime
    measurement: Measurement | None = None
    known: Tonight = NOTHING_KNOWN
    counts: bool = True
    pole: Pole = "refracted"
    good_arcmin: float | None = None
    leans_to_pole_deg: float = 0.0
    leans_east_deg: float = 0.0
    kit_folder: Path | None = None


@dataclass(frozen=True)
class StandingDoubt:
    """A doubt that nothing has settled, and the measurement that it is about.

    `measured` is None for a measurement that isn't kept.
    """

    measured: Measured | None
    doubt: Doubt


@dataclass(frozen=True)
class CheckAnswer:
    """How far off, what each measurement says, what to turn, to see after, and to measure next.

    `finding`: what the measurement that was given says, None if none was. `known`: everything
    that counts, it among them. `together`: all as one, None while nothing is measured. `stars`:
    those that can be used now, None by day. `pole_lift_arcmin`: how far the air lifts the pole.
    `guessed`: keys of the bolts that nobody measured.
    """

    at: datetime
    pole: Pole
    finding: Finding | None
    known: Tonight
    together: Combined | None
    advice: Advice
    standing: tuple[StandingDoubt, ...]
    good_arcmin: float | None
    stars: MeasurableStars | None
    observer: Observer
    pole_lift_arcmin: float
    guessed: tuple[str, ...]
    site_name: str
    zone: ZoneInfo

    @property
    def measured(self) -> bool:
        """Whether anything is known of the axis."""
        return self.together is not None

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error by everything that counts."""
        return NOTHING if self.together is None else self.together.estimate

    @property
    def limit_arcmin(self) -> float:
        """What is good enough: the person's figure, or the kit's."""
        own = self.good_arcmin
        return self.advice.tolerance.largest_arcmin if own is None else own

    @property
    def several(self) -> bool:
        """Whether more than one measurement counts."""
        return len(self.known.since_turn) > 1

    @property
    def left_out(self) -> tuple[int, ...]:
        """Which of the known contradict all the others."""
        return () if self.together is None else self.together.left_out

    @property
    def dated_before_last_turn(self) -> bool:
        """Whether this measurement is dated before the last turn of a bolt, as after a clock
        that was set back."""
        turned = self.known.last_turn
        return self.finding is not None and turned is not None and self.finding.at <= turned

    @property
    def to_turn(self) -> bool:
        """Whether bolts should be turned, as far as is known."""
        return self.advice.moves is not None and self.advice.verdict is not Verdict.GOOD

    @property
    def altitude_worth_turning(self) -> bool:
        """Whether the altitude bolt's turn can be made by hand."""
        moves = self.advice.moves
        return moves is not None and abs(moves.altitude_turns) >= LEAST_TURN

    @property
    def azimuth_worth_turning(self) -> bool:
        """Whether the azimuth bolts' turn can be made by hand."""
        moves = self.advice.moves
        return moves is not None and abs(moves.azimuth_turns) >= LEAST_TURN

    @property
    def disagreeing(self) -> bool:
        """Whether rows contradict each other and nobody can tell which is wrong."""
        return any(s.doubt.kind is DoubtKind.DISAGREEING for s in self.standing)


@dataclass(frozen=True)
class TurnedRequest:
    """How far the bolts were turned at `at`, clockwise positive."""

    at: datetime
    altitude_turns: float = 0.0
    azimuth_turns: float = 0.0


@dataclass(frozen=True)
class TurnedAnswer:
    """What was turned: measurements from before `at` don't count any more."""

    at: datetime
    altitude_turns: float
    azimuth_turns: float
    observer: Observer
    zone: ZoneInfo


NOTHING = AxisEstimate(0.0, 0.0, np.zeros((2, 2)))


def check(kit: Kit, request: CheckRequest) -> CheckAnswer:
    """The axis error by one measurement and what is known, or by what is known alone.

    Refuses measurements that fix nothing, and figures that no mount can have.
    """
    _refuse(request)
    observer = observer_of(kit.site)
    known, finding = request.known, None
    if request.measurement is not None:
        finding = find(request.measurement, kit, request.at, request.pole, _evidence(known))
        if request.counts and finding.estimate.rank:
            known = _with(known, finding, request.at, kit.site.zone)
    estimates = [m.estimate for m in known.since_turn]
    if not estimates and finding is not None:
        estimates = [finding.estimate]
    together = combine(estimates) if estimates else None
    standing = () if together is None else _standing(finding, known, together)
    horizon = site_horizon(kit.site, request.kit_folder, request.at)
    stars = stars_now(request.at, observer, horizon.altitude_at)
    advice = advise(
        NOTHING if together is None else together.estimate,
        kit,
        Base(observer, request.pole, request.leans_to_pole_deg, request.leans_east_deg),
        stars,
        good_arcmin=request.good_arcmin,
        doubts=[s.doubt for s in standing],
    )
    lift_deg = refracted_pole_altitude_deg(observer) - abs(observer.latitude_deg)
    return CheckAnswer(
        at=request.at,
        pole=request.pole,
        finding=finding,
        known=known,
        together=together,
        advice=advice,
        standing=standing,
        good_arcmin=request.good_arcmin,
        stars=stars,
        observer=observer,
        pole_lift_arcmin=lift_deg * 60.0,
        guessed=tuple(key for key in kit.guessed if key.startswith("mount.bolts")),
        site_name=kit.site.name,
        zone=kit.site.zone,
    )


def turned(kit: Kit, request: TurnedRequest) -> TurnedAnswer:
    """That bolts were turned, checked. Refuses more turns than a bolt has."""
    for bolt, turns in (("altitude", request.altitude_turns), ("azimuth", request.azimuth_turns)):
        if not abs(turns) <= MOST_TURNS:
            raise AxletreeError(
                f"{turns:g} turns of the {bolt} bolt: must lie between -100 and 100"
            )
    return TurnedAnswer(
        request.at,
        request.altitude_turns,
        request.azimuth_turns,
        observer_of(kit.site),
        kit.site.zone,
    )


def _refuse(request: CheckRequest) -> None:
    for lean in (request.leans_to_pole_deg, request.leans_east_deg):
        if not abs(lean) <= LARGEST_BASE_LEAN_DEG:
            raise AxletreeError(f"a base that leans {lean:g}° must be levelled first (at most 20°)")
    good = request.good_arcmin
    if good is not None and not 0.001 <= good <= 10_000.0:
        raise AxletreeError(f"good enough {good:g}′ must lie between 0.001 and 10000")


def _evidence(known: Tonight) -> AxisEstimate | None:
    return combine([m.estimate for m in known.since_turn]).estimate if known.since_turn else None


def _with(known: Tonight, finding: Finding, at: datetime, zone: ZoneInfo) -> Tonight:
    """The known and this one more, where it belongs to the same evening."""
    if evening_of(finding.at, zone) != evening_of(at, zone):
        return known
    if known.last_turn is not None and finding.at <= known.last_turn:
        return replace(known, before_turn=known.before_turn + 1)
    estimate = finding.estimate
    even = 0.5 * (estimate.information + estimate.information.T)
    new = Measured(
        finding.method,
        finding.at,
        finding.source,
        replace(estimate, information=even),
        finding.doubts,
    )
    return replace(known, since_turn=tuple(sorted((*known.since_turn, new), key=lambda m: m.at)))


def _standing(
    finding: Finding | None, known: Tonight, together: Combined
) -> tuple[StandingDoubt, ...]:
    """The doubts of all measurements that count, without what the others have checked."""
    every = [
        StandingDoubt(measured, doubt)
        for k, measured in enumerate(known.since_turn)
        if k not in together.left_out
        for doubt in measured.doubts
    ]
    if not known.since_turn and finding is not None:
        every = [StandingDoubt(None, doubt) for doubt in finding.doubts]
    left = []
    for one in every:
        doubt = still_standing(one.doubt, together.estimate.information)
        if doubt is not None:
            left.append(StandingDoubt(one.measured, doubt))
    return tuple(left)


def after_bolts(kit: Kit, first: CheckAnswer, request: CheckRequest, shot: Shot) -> CheckAnswer:
    """Where the axis points by one picture more, alone; `first` by pictures, then bolts turned."""
    assert isinstance(first.finding, PicturesFinding)
    run, pole = first.finding, first.pole
    known = axis_in_camera(run.run, run.solved.estimate, first.observer, pole)
    by_one = axis_by_one(known, shot, first.observer, pole)
    estimate = with_clock(by_one, run.clock_sigma_s)
    at = shot.middle.to_datetimes()[0]
    alone = Tonight((Measured(AxisMethod.PICTURES, at, shot.name, estimate),), None, 0)
    return check(kit, replace(request, at=at, measurement=None, known=alone))
