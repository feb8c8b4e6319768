"""How does the evening's typed answer become its document?

Figures and codes as they are, sentences from the modules `text`. Whoever holds the answer makes
the document with `evening_document`; parts of it (a stop, what was given up) can be made alone.
"""

from __future__ import annotations

from axletree.evening.given_up import GivenUp
from axletree.evening.night.darkness import NightLight
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.set_up import BalanceSetUp, FollowSetUp, NorthSetUp, PoleSetUp
from axletree.evening.stops.outcome import OrderQuality
from axletree.evening.stops.ring_advice import RingTurnAdvice
from axletree.evening.stops.stop import CutOff, EyepieceView, Nudge, SideChoice, Stop, StopPlace
from axletree.mount.room.side_answer import SideCaution
from axletree.pole.aim.scope_orientation import face_words as dial_words
from axletree.tell.evening.document import (
    BalanceFacts,
    DriftFacts,
    Evening,
    FollowFacts,
    GivenUpFacts,
    MoonFacts,
    NightFacts,
    NorthFacts,
    NudgeFacts,
    OrderFacts,
    PlaceFacts,
    PoleFacts,
    RigFacts,
    RingTurnCostFacts,
    RingTurnFacts,
    SideFacts,
    SiteFacts,
    StageFacts,
    StopFacts,
    ViewFacts,
    WeightFacts,
)
from axletree.tell.evening.notes.text import (
    assumption_words,
    caution_words,
    night_words,
    note_words,
    phase_words,
)
from axletree.tell.seeing.text import visibility_words, why_words
from axletree.tell.set_up.text import (
    follow_words,
    lack_words,
    north_note,
    ring_turn_words,
    stage_words,
)
from axletree.tell.side.text import end_words, posture_words
from axletree.tell.stop.text import (
    dial,
    face_words,
    given_up_words,
    nudge_words,
    order_words,
    orientation_words,
    stop_caution_words,
    why_side_words,
)


def evening_document(answer: EveningAnswer) -> Evening:
    """The whole document."""
    kit, units = answer.kit, answer.kit.habits.units
    turn = answer.ring_turn
    return Evening(
        date=answer.day,
        made_at=answer.made_at,
        place=site_facts(answer),
        rig=_rig(answer),
        units=units,
        visitors=kit.habits.visitors,
        darkness=_night(answer.darkness),
        north=_north(answer.set_up.north),
        pole=_pole(answer.set_up.pole),
        balance=_balance(answer.set_up.balance),
        follow=_follow(answer.set_up.follow),
        ring_turn=None if turn is None else _ring_turn(turn),
        stages=tuple(_stages(answer)),
        stops=tuple(stop_facts(stop, units) for stop in answer.stops),
        order=order_facts(answer.order),
        given_up=tuple(given_up_facts(left) for left in answer.given_up),
        assumptions=assumption_words(answer),
        cautions=caution_words(answer),
        caution_codes=tuple(caution.value for caution in answer.cautions),
        notes=note_words(answer),
    )


def site_facts(answer: EveningAnswer) -> SiteFacts:
    """Where the evening happens."""
    site, observer = answer.kit.site, answer.observer
    return SiteFacts(
        name=site.name,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
        time_zone=site.time_zone,
        elevated_pole="north" if site.north else "south",
        pressure_hpa=observer.air_pressure_hpa,
        temperature_c=observer.air_temperature_c,
    )


def _rig(answer: EveningAnswer) -> RigFacts:
    kit = answer.kit
    return RigFacts(
        kit_name=kit.name,
        mount=kit.mount.name,
        motion=kit.mount.motion,
        tube=kit.tube.name,
        tube_kind=kit.tube.kind,
        aperture_mm=kit.tube.aperture_mm,
        focal_length_mm=kit.tube.focal_length_mm,
        guessed=kit.guessed,
    )


def _night(night: NightLight) -> NightFacts:
    moon = night.moon
    told = ("note", "moon")
    same = {name: getattr(night, name) for name in NightFacts.model_fields if name not in told}
    return NightFacts(
        **same,
        note=night_words(night),
        moon=MoonFacts(
            lit_fraction=moon.lit_fraction,
            phase=phase_words(moon.phase),
            phase_code=moon.phase.value,
            rise=moon.rise,
            set=moon.set,
        ),
    )


def _north(north: NorthSetUp) -> NorthFacts:
    return NorthFacts(
        pole="north" if north.pole == "north" else "south",
        magnetic_declination_deg=north.field.declination_deg,
        magnetic_declination_sigma_deg=north.field.declination_sigma_deg,
        zone=north.field.zone,
        compass_bearing_deg=north.compass_bearing_deg,
        note=north_note(north),
    )


def _pole(pole: PoleSetUp) -> PoleFacts:
    same = {name: getattr(pole, name) for name in PoleFacts.model_fields if name != "clock_face"}
    return PoleFacts(**same, clock_face=dial_words(pole.clock_hour))


def _balance(balance: BalanceSetUp) -> BalanceFacts:
    return BalanceFacts(
        weights=tuple(
            WeightFacts(mass_kg=w.mass_kg, position_mm=w.position_mm) for w in balance.weights
        ),
        tube_slide_mm=balance.tube_slide_mm,
        hour_axis_torque_nm=balance.hour_axis_torque_nm,
        declination_axis_torque_nm=balance.declination_axis_torque_nm,
        push_to_tip_n=balance.push_to_tip_n,
        words=lack_words(balance),
    )


def _follow(follow: FollowSetUp) -> FollowFacts:
    knob = follow.knob
    return FollowFacts(
        seconds_per_knob_turn=None if knob is None else knob.seconds_per_turn,
        knob_turns_per_minute=None if knob is None else knob.turns_per_minute,
        eyepieces=tuple(DriftFacts(**vars(eyepiece)) for eyepiece in follow.eyepieces),
        words=follow_words(follow),
    )


def _ring_turn(turn: RingTurnAdvice) -> RingTurnFacts:
    return RingTurnFacts(
        turn_deg=turn.turn_deg,
        present_deg=turn.present_deg,
        total_now_mm=turn.total_now_mm,
        total_then_mm=turn.total_then_mm,
        costs=tuple(RingTurnCostFacts(**vars(cost)) for cost in turn.costs),
        words=ring_turn_words(turn),
    )


def _stages(answer: EveningAnswer) -> list[StageFacts]:
    made = []
    for stage in answer.stages:
        said, details, cautions = stage_words(answer, stage)
        made.append(
            StageFacts(
                name=stage.name,
                begin=stage.begin,
                end=stage.end,
                answer=said,
                details=details,
                cautions=cautions,
            )
        )
    return made


def stop_facts(stop: Stop, units: str) -> StopFacts:
    """One stop; lengths in its sentences in the person's units."""
    return StopFacts(
        number=stop.number,
        name=stop.name,
        also_called=stop.also_called,
        kind=stop.kind,
        constellation=stop.constellation,
        catalogue_id=stop.catalogue_id,
        right_ascension_of_date_h=stop.right_ascension_of_date_h,
        declination_of_date_deg=stop.declination_of_date_deg,
        right_ascension_j2000_h=stop.right_ascension_j2000_h,
        declination_j2000_deg=stop.declination_j2000_deg,
        magnitude_v=stop.magnitude_v,
        size_arcmin=stop.size_arcmin,
        begin=stop.begin,
        end=stop.end,
        queue_s=stop.queue_s,
        start=_place(stop.start),
        finish=_place(stop.finish),
        chosen=_side(stop.chosen),
        other=None if stop.other is None else _side(stop.other),
        why_side=why_side_words(stop, units),
        why_side_code=why_side_code(stop),
        view=_view(stop.view, units),
        nudge=_nudge(stop.nudge),
        visibility=visibility_words(stop.visibility),
        visibility_code=stop.visibility.value,
        margin_mag=stop.margin_mag,
        why=why_words(stop.candidate),
        turn_warnings=tuple(map(stop_caution_words, stop.turn_cautions)),
        turn_warning_codes=tuple(map(_caution_code, stop.turn_cautions)),
        cautions=tuple(map(stop_caution_words, stop.cautions)),
        caution_codes=tuple(map(_caution_code, stop.cautions)),
        promised=stop.promised,
    )


def why_side_code(stop: Stop) -> str:
    """What tells the chosen side from the other one, or that the order of the stops does."""
    decided = stop.choice.better not in (stop.chosen.side, "")
    return "order" if decided else stop.choice.reason.value


def _caution_code(caution: SideCaution | CutOff) -> str:
    return "cut_off" if isinstance(caution, CutOff) else caution.warning.value


def _place(place: StopPlace) -> PlaceFacts:
    return PlaceFacts(**vars(place))


def _side(side: SideChoice) -> SideFacts:
    return SideFacts(
        side=side.side,
        weights_up=side.weights_up,
        room_s=side.room_s,
        room_deg=side.room_deg,
        room_ends=side.room_ends,
        ends_by=end_words(side.ends),
        ends_code=side.ends.by.key,
    )


def _view(view: EyepieceView, units: str) -> ViewFacts:
    return ViewFacts(
        eyepiece=view.eyepiece,
        magnification=view.magnification,
        true_field_deg=view.true_field_deg,
        exit_pupil_mm=view.exit_pupil_mm,
        height_mm=view.height_mm,
        face_azimuth_deg=view.face_azimuth_deg,
        face_words=face_words(view),
        barrel_tilt_deg=view.barrel_tilt_deg,
        reach=posture_words(view.posture, units),
        reach_code=view.posture.stance.value,
        orientation=orientation_words(view),
        orientation_code=view.picture.value,
        drift_clock=dial(view.drift_deg),
    )


def _nudge(nudge: Nudge) -> NudgeFacts:
    return NudgeFacts(
        every_s=nudge.every_s,
        knob_turns=nudge.knob_turns,
        direction=nudge_words(nudge),
        direction_code=nudge.direction.value,
        times_per_visitor=nudge.times_per_visitor,
    )


def given_up_facts(left: GivenUp) -> GivenUpFacts:
    """An object without a stop."""
    return GivenUpFacts(name=left.name, reason=given_up_words(left), reason_code=left.reason.value)


def order_facts(order: OrderQuality) -> OrderFacts:
    """How good the order is."""
    return OrderFacts(
        method=order.method,
        proven_best=order.proven_best,
        gap_percent=round(order.gap_percent, 2),
        words=order_words(order),
        empty_because=None if order.empty_because is None else order.empty_because.value,
        ended_by=None if order.ended_by is None else order.ended_by.value,
    )
