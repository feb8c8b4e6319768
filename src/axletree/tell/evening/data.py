"""How does the evening's typed answer become its document?

Figures and codes as they are, sentences from the modules `text`. Whoever holds the answer makes
the document with `evening_document`; parts of it (a stop, what was given up) can be made alone.
"""

from __future__ import annotations

from zoneinfo import ZoneInfo

from axletree.axis.state import State, axis_state
from axletree.evening.night.darkness import NightLight
from axletree.evening.night.set_up_pace import OwnMinutes, take_down_min
from axletree.evening.people.children import ChildrensPart
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.set_up import BalanceSetUp, FollowSetUp, NorthSetUp, PoleSetUp
from axletree.evening.stops.ring_advice import RingTurnAdvice
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.sun_rule import SunRule
from axletree.tell.evening.document import (
    ChildrenFacts,
    DriftFacts,
    Evening,
    FollowFacts,
    HappeningFacts,
    StateFacts,
)
from axletree.tell.evening.notes.text import (
    assumption_words,
    brings_back_words,
    caution_words,
    children_words,
    night_words,
    note_words,
    phase_words,
)
from axletree.tell.evening.parts.set_up_facts import (
    BalanceFacts,
    MoonFacts,
    NightFacts,
    NorthFacts,
    OwnMinutesFacts,
    PoleFacts,
    RigFacts,
    RingTurnCostFacts,
    RingTurnFacts,
    SiteFacts,
    StageFacts,
    StillPointFacts,
    WeightFacts,
)
from axletree.tell.evening.stop_data import given_up_facts, order_facts, stop_facts
from axletree.tell.eyepiece.data import happening_data
from axletree.tell.eyepiece.happenings_text import happening_words
from axletree.tell.find.stop_text import ways_words
from axletree.tell.kit.measure_data import measure_data
from axletree.tell.learned.data import learned_data
from axletree.tell.satellites.data import satellites_data
from axletree.tell.set_up.text import (
    follow_words,
    lack_words,
    north_note,
    ring_turn_words,
    stage_words,
    stop_sign_words,
    take_down_words,
)
from axletree.tell.shared.words import dial_hour
from axletree.tell.special.data import special_data
from axletree.tell.special.tonight_text import head_words, moon_phase_words, special_notes


def evening_document(answer: EveningAnswer) -> Evening:
    """The whole document."""
    kit, units = answer.kit, answer.kit.habits.units
    turn, zone = answer.ring_turn, kit.site.zone
    filters = SunRule.of(kit, answer.observer).filtered
    special = tuple(special_data(night, zone, filters) for night in answer.special)
    return Evening(
        date=answer.day,
        made_at=answer.made_at,
        place=site_facts(answer),
        rig=_rig(answer),
        units=units,
        visitors=kit.habits.visitors,
        darkness=_night(answer.darkness, answer.special, zone),
        north=_north(answer.set_up.north),
        pole=_pole(answer.set_up.pole),
        balance=_balance(answer.set_up.balance, units),
        follow=_follow(answer.set_up.follow),
        ring_turn=None if turn is None else _ring_turn(turn),
        stages=tuple(_stages(answer)),
        stops=tuple(stop_facts(stop, units) for stop in answer.stops),
        order=order_facts(answer.order),
        given_up=tuple(given_up_facts(left) for left in answer.given_up),
        assumptions=assumption_words(answer),
        cautions=caution_words(answer),
        caution_codes=tuple(caution.value for caution in answer.cautions),
        happenings=_happenings(answer),
        notes=(*note_words(answer), *special_notes(special), *_take_down(answer)),
        ways_words=ways_words(answer.stops),
        state=state_facts(axis_state(answer.state)),
        special=special,
        rig_learned=None
        if answer.rig_learned is None
        else learned_data(answer.rig_learned, zone, units),
        measure_first=tuple(map(measure_data, answer.measure_first)),
        brings_back=None
        if answer.brings_back is None
        else {
            "keys": list(answer.brings_back.dimensions),
            "objects": list(answer.brings_back.objects),
            "words": brings_back_words(answer.brings_back),
        },
        satellites=satellites_data(answer.crossings, zone),
        children=None if answer.children is None else _children(answer.children),
        tonight=head_words(
            answer.special,
            answer.day,
            zone,
            filters,
            None if answer.session is None else answer.session.end,
        ),
        own_minutes=tuple(map(_own_minutes, answer.own_minutes)),
        take_down_min=take_down_min(answer.own_minutes),
        stop_sign=stop_sign_words(answer.set_up.balance, units),
    )


def _own_minutes(own: OwnMinutes) -> OwnMinutesFacts:
    return OwnMinutesFacts(
        work_code=own.work.value, minutes=own.minutes, sigma_min=own.sigma_min,
        evenings=own.evenings, assumed_min=own.assumed_min,
    )  # fmt: skip


def _take_down(answer: EveningAnswer) -> tuple[str, ...]:
    said = take_down_words(answer)
    return (said,) if said else ()


def _happenings(answer: EveningAnswer) -> tuple[HappeningFacts, ...]:
    if answer.session is None:
        return ()
    begin, zone = answer.session.first_stop, answer.kit.site.zone
    return tuple(
        HappeningFacts(happening=happening_data(one), words=happening_words(one, begin, zone))
        for one in answer.happenings
    )


def _children(part: ChildrensPart) -> ChildrenFacts:
    return ChildrenFacts(
        until=part.until, stops=part.stops, later=part.later, words=children_words(part)
    )


def state_facts(state: State | None) -> StateFacts | None:
    """By which notes the circles are told."""
    if state is None:
        return None
    return StateFacts(**{name: getattr(state, name) for name in StateFacts.model_fields})


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
        mount=kit.mount.label,
        motion=kit.mount.motion,
        tube=kit.tube.label,
        tube_kind=kit.tube.kind,
        aperture_mm=kit.tube.aperture_mm,
        focal_length_mm=kit.tube.focal_length_mm,
        hour_marks=kit.mount.circles.hour_marks,
        hour_circle=kit.mount.circles.hour_circle,
        guessed=kit.guessed,
    )


def _night(night: NightLight, special: tuple[SpecialNight, ...], zone: ZoneInfo) -> NightFacts:
    moon = night.moon
    told = ("note", "moon")
    same = {name: getattr(night, name) for name in NightFacts.model_fields if name not in told}
    return NightFacts(
        **same,
        note=night_words(night),
        moon=MoonFacts(
            lit_fraction=moon.lit_fraction,
            phase=moon_phase_words(special, phase_words(moon.phase), zone),
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
    told = {"clock_face", "still_point"}
    same = {name: getattr(pole, name) for name in PoleFacts.model_fields if name not in told}
    view = pole.still_point
    point = None if view is None else StillPointFacts(
        through=view.through.value, eyepiece=view.eyepiece, field_deg=view.field_deg,
        sigma_arcmin=view.sigma_arcmin,
    )  # fmt: skip
    return PoleFacts(**same, clock_face=dial_hour(pole.clock_hour), still_point=point)


def _balance(balance: BalanceSetUp, units: str) -> BalanceFacts:
    return BalanceFacts(
        weights=tuple(
            WeightFacts(mass_kg=w.mass_kg, position_mm=w.position_mm) for w in balance.weights
        ),
        tube_slide_mm=balance.tube_slide_mm,
        hour_axis_torque_nm=balance.hour_axis_torque_nm,
        declination_axis_torque_nm=balance.declination_axis_torque_nm,
        push_to_tip_n=balance.push_to_tip_n,
        words=lack_words(balance, units),
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
