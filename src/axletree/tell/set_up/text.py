"""In which sentences is setting up for an evening told: answer, details and cautions a stage?"""

from __future__ import annotations

import math

from axletree.evening.night.damp import Damp, DampNight, damp_tonight
from axletree.evening.night.set_up_times import StageTime
from axletree.evening.sheet.answer import EveningAnswer
from axletree.evening.sheet.set_up import (
    BalanceFault,
    BalanceLack,
    BalanceSetUp,
    FollowSetUp,
    LegsTowards,
    LevelSetUp,
    NorthSetUp,
)
from axletree.evening.stops.ring_advice import RingTurnAdvice
from axletree.mount.steady.tipping import LEANING_CHILD_N
from axletree.tell.north.cautions_text import model_age_words
from axletree.tell.pole.tube_text import tube_words
from axletree.tell.set_up.finder_text import finder_stage
from axletree.tell.shared.text import stop_words
from axletree.tell.shared.words import (
    dial_place,
    duration,
    force,
    length,
    mass,
    temperature,
    torque,
)
from axletree.tell.skyline.text import skyline_words

StageWords = tuple[str, tuple[str, ...], tuple[str, ...]]


BETWEEN_STOPS = (
    "Between two stops: what comes before needs no more than an axis set by compass and scale."
)


def stage_words(answer: EveningAnswer, stage: StageTime) -> StageWords:
    """Answer, details and cautions of one stage."""
    made, kit = answer.set_up, answer.kit
    if stage.name == "arrive":
        caps = ("Caps on all tubes and finders while the Sun is up.",) if stage.daylight else ()
        power = answer.kit.mount.motor is not None or answer.kit.camera is not None
        return (
            "Unload; walk the ground while you can see cables, holes and steps.",
            light_words(power),
            caps,
        )
    if stage.name == "spot":
        return _spot(answer)
    if stage.name == "level":
        return _level(made.level, kit.habits.units)
    if stage.name == "north":
        return _north(made.north)
    if stage.name == "balance":
        return _balance(answer)
    if stage.name == "finder" and made.finder is not None:
        return finder_stage(made.finder, kit.habits.units)
    if stage.name == "pole":
        said, details, cautions = _pole(answer)
        set_at = None if answer.session is None else answer.session.set_between
        between = set_at is not None and any(stop.begin < set_at[0] for stop in answer.stops)
        return said, (*details, *((BETWEEN_STOPS,) if between else ())), cautions
    if stage.name == "check":
        return (
            f"{stop_words(made.good_enough_arcmin)} Else a star's drift tells the bolt turns.",
            (),
            (),
        )
    minutes = kit.tube.cool_down_min
    said = f"The tube stands in the open air by now: it needs {minutes:.0f} minutes."
    return said, (damp_words(damp_tonight(kit, answer.day), kit.habits.units),), ()


def light_words(power: bool) -> tuple[str, ...]:
    """Light and power, looked after by day."""
    said = "A spare red light with fresh cells where the hand finds it."
    return (said, "Power full and its cables out of the way.") if power else (said,)


def damp_words(night: DampNight, units: str = "metric") -> str:
    """Against dew or frost, and by what it is expected."""
    by = (
        "by the season, our rule"
        if night.temperature_c is None
        else f"by your {temperature(night.temperature_c, units)}"
    )
    if night.damp is Damp.FROST:
        return (
            f"Frost ({by}): caps on between stops, eyepieces in a pocket, gloves that let the "
            "fingers feel; never scrape glass."
        )
    return f"Dew ({by}): shield on from the start, eyepieces capped; never wipe glass, let it dry."


def take_down_words(answer: EveningAnswer) -> str:
    """What is done at the end, in the order that keeps hands and glass safe; '' for no session."""
    if answer.session is None:
        return ""
    return f"Take down from {answer.session.end:%H:%M}: {taken_down_so()}"


def taken_down_so() -> str:
    """The steps of taking down, in their order."""
    return (
        "caps on where the glass is dry, tube off before the weights, a round with the light for "
        "what lies on the ground; indoors let the glass dry uncapped."
    )


def _spot(answer: EveningAnswer) -> StageWords:
    pole = answer.set_up.pole
    notes = skyline_words(answer.horizon)
    assumed = tuple(f"{note[:1].upper()}{note[1:]}." for note in notes)
    if pole.on_the_horizon:
        said = (
            "The pole stands too low here for its star to serve: set north and latitude with care, "
            "then measure the drift of two stars."
        )
    elif pole.skyline_clear:
        said = f"The pole is in view, {pole.room_above_skyline_deg:.0f}° above the skyline."
    else:
        said = (
            "The pole is hidden by the skyline here: set north and latitude with care, then "
            "measure the drift of two stars."
        )
    return said, assumed, ("Tie cords, cables and tripod feet where nobody walks.",)


def _level(level: LevelSetUp, units: str) -> StageWords:
    details: tuple[str, ...] = ()
    if level.ground_slope_percent:
        details = (
            f"The ground falls {level.ground_slope_percent:.1f} %: up to "
            f"{length(level.most_between_feet_mm, units)} between the feet, the longest leg "
            "downhill.",
        )
    legs = {
        LegsTowards.POLE: "One leg towards the pole",
        LegsTowards.AWAY: "One leg away from the pole",
        LegsTowards.AS_THE_KIT_SAYS: "Legs as the kit says",
    }[level.legs]
    said = f"{legs}; lengthen the low legs until the bubble is in the middle."
    return said, details, ()


def _north(north: NorthSetUp) -> StageWords:
    side = "east" if north.field.declination_deg >= 0 else "west"
    sigma = math.hypot(north.field.declination_sigma_deg, north.reading_sigma_deg)
    pole = "north" if north.pole == "north" else "south"
    said = (
        f"Turn the axis to compass bearing {north.compass_bearing_deg:.1f}° "
        f"(±{sigma:.1f}° with the reading): true {pole}."
    )
    details = [
        f"The needle points {abs(north.field.declination_deg):.1f}° {side} of true north here."
    ]
    if note := north_note(north):
        details.append(note)
    cautions = ["Read the compass two big steps from steel, cars and the mount."]
    if north.field.zone == "blackout":
        cautions.insert(0, "Magnetic blackout zone: do not use a compass here.")
    elif north.field.zone == "caution":
        cautions.insert(0, "Magnetic caution zone: a compass is poor here.")
    return said, tuple(details), tuple(cautions)


def north_note(north: NorthSetUp) -> str:
    """That the date lies outside the magnetic model's years; '' where it does not."""
    return "".join(model_age_words(north.field))


def _balance(answer: EveningAnswer) -> StageWords:
    balance, units = answer.set_up.balance, answer.kit.habits.units
    if balance.weights:
        weights = " and ".join(
            f"{mass(w.mass_kg, units)} {length(w.gap_mm, units)}" for w in balance.weights
        )
        said = f"Weights: {weights} from the start of the shaft."
    else:
        said = "No weight is needed on the shaft."
    details = [
        f"Tube: the place {length(balance.over_saddle_mm, units)} from its front lies over the "
        "declination axis.",
        f"Left over at the worst pose: {torque(balance.hour_axis_torque_nm, units)} about the hour "
        f"axis, {torque(balance.declination_axis_torque_nm, units)} about the declination axis.",
        *(w[:1].upper() + w[1:] + "." for w in lack_words(balance, units)),
    ]
    if answer.ring_turn is not None:
        details.append(ring_turn_words(answer.ring_turn))
    cautions = [
        "Weights on before the tube, tube off before the weights.",
        "Hold the tube while a lock is open.",
    ]
    if balance.push_to_tip_n < LEANING_CHILD_N:
        cautions.append(
            f"A push of {force(balance.push_to_tip_n, units)} at the eyepiece tips this rig, less "
            f"than a leaning child ({force(LEANING_CHILD_N, units)}, our own figure): what helps "
            "stands under balance."
        )
    return said, tuple(details), tuple(cautions)


def lack_words(balance: BalanceSetUp, units: str) -> tuple[str, ...]:
    """What balance cannot reach, without capitals and full stops."""
    return tuple(_lack(lack, units) for lack in balance.lacks)


def stop_sign_words(balance: BalanceSetUp, units: str) -> str:
    """What stands before all else where the mount carries more than it may; "" where it doesn't."""
    over = [_lack(lack, units) for lack in balance.lacks if lack.fault is BalanceFault.OVERLOADED]
    return "".join(f"Stop: {words}. Put less on it before you set it up." for words in over)


def _lack(lack: BalanceLack, units: str) -> str:
    if lack.fault is BalanceFault.OVERLOADED:
        return (
            f"the mount carries {mass(lack.value, units)}, more than its {mass(lack.limit, units)}"
        )
    if lack.fault is BalanceFault.DOVETAIL_SHORT:
        return (
            f"the dovetail is {length(abs(lack.value), units)} too short to slide the tube far "
            "enough " + ("back" if lack.value < 0 else "forward")
        )
    much = "too little" if lack.fault is BalanceFault.TOO_LITTLE_WEIGHT else "too much"
    return f"the weights cannot balance this tube: {much} by {torque(lack.value, units)}"


def ring_turn_words(turn: RingTurnAdvice) -> str:
    """What to turn, how far and what it brings, in a sentence."""
    what = "the tube in its rings" if turn.newtonian else "the diagonal"
    if not turn.worth_it:
        return f"Leave {what} as it is: no other turn serves tonight's stops much better."
    way = "clockwise" if turn.change_deg > 0 else "anticlockwise"
    stops = len(turn.costs)
    worse = sum(cost.worse for cost in turn.costs)
    costs = f"; {worse} of the {stops} stops get worse" if worse else ""
    gained = (turn.total_now_mm - turn.total_then_mm) / stops
    return (
        f"Turn {what} {abs(turn.change_deg):.0f}° {way}, seen from behind: the eyepiece suits "
        f"tonight's stops better ({gained:.0f} mm a stop, awkward slants counted){costs}."
    )


def _pole(answer: EveningAnswer) -> StageWords:
    pole, shows = answer.set_up.pole, answer.darkness.pole_star_visible
    served = bool(shows and answer.session and answer.session.by_star)
    said = f"Latitude scale to {pole.latitude_scale_deg:.1f}°."
    if pole.on_the_horizon:
        star = "No pole star is to be seen so low: finish with the drift of two stars."
    elif not pole.skyline_clear:
        star = "The pole star is behind the skyline: finish with the drift of two stars."
    elif not served and (pole.has_scope or pole.still_point is not None):
        late = "comes out too late for these hours" if shows else "doesn't come out tonight"
        star = f"{pole.star} {late}: leave the axis as set, or measure the drift of two stars."
    elif pole.still_point is not None:
        star = (
            f"Look along the axis with {tube_words(pole.still_point)}, swing the hour axis a "
            "quarter turn down: the point that keeps its place in the field is the axis. With the "
            f"bolts put {pole.star} {dial_place(pole.clock_hour)} on a dial about that point, "
            f"{pole.pole_distance_arcmin:.0f}′ from it (12 is up)."
        )
    elif not pole.has_scope:
        star = (
            f"{pole.star} stands {pole.pole_distance_arcmin:.0f}′ from the pole; there is no "
            "polar scope, so sight along the housing and finish with the drift of two stars."
        )
    else:
        star = (
            f"Put {pole.star} {dial_place(pole.clock_hour)} on the dial, "
            f"{pole.pole_distance_arcmin:.1f}′ from the middle, as the {pole.view} picture shows "
            "it."
        )
    high = f"The pole is {pole.pole_altitude_deg:.2f}° high as seen through the air."
    return said, (star, high), ()


def follow_words(follow: FollowSetUp) -> tuple[str, ...]:
    """How the slow knob keeps an object in view, without capitals and full stops."""
    knob, said = follow.knob, []
    if knob is None:
        said.append("the hour axis has no knob: push the tube gently towards the west")
    else:
        way = "clockwise" if knob.clockwise else "anticlockwise"
        said.append(f"turn the hour knob {way}, one turn every {duration(knob.seconds_per_turn)}")
        if knob.backlash_s > 0:
            said.append(f"after turning back, {knob.backlash_s:.0f} s of slack come first")
    if follow.motor:
        said.append("the motor follows the stars; the knob or the keys only correct")
    return tuple(said)
