"""How long do finding, looking and talking take this host with these people?

Public: ``Ease``, ``ease_of``, ``find_seconds``, ``show_seconds``, ``look_factor``, ``slack_part``,
``most_stops``, ``people_at``.

Every figure is common practice, no source, and gives way to the kit's own: finding by experience
and by what is sought, looking by the number of eyes, an introduction to each object, and some
slack, for nothing goes as planned.
"""

from __future__ import annotations

from enum import IntEnum

from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Audience, Habits, audience_of
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.contrast import Experience
from axletree.sky.positions.ephemeris import FAINT_PLANETS


class Ease(IntEnum):
    """How an object is come by: BRIGHT ones by aiming, EASY ones the bare eye or the finder shows,
    FAINT ones are counted to, turned to or hopped to."""

    BRIGHT = 0
    EASY = 1
    FAINT = 2


# Minutes to find something bright, easy and faint, by hand.
FIND_MIN: dict[Experience, tuple[float, float, float]] = {
    "newcomer": (2.0, 3.0, 6.5),
    "practised": (1.0, 2.0, 2.5),
    "expert": (0.7, 1.2, 2.0),
}
# A motor that turns to the object by itself leaves the centring; one that turns one axis, half.
BOTH_MOTORS_MIN, ONE_MOTOR_PART = 0.5, 0.7
BRIGHT_STAR_MAG, EASY_STAR_MAG, EASY_GLOW_MAG = 3.0, 5.0, 5.0

TALK_MIN = 2.0  # introduction and questions, where anybody listens
# A quiet look, which visitors never shorten; a newcomer reads what there is to see meanwhile.
ALONE_MIN: dict[Experience, float] = {"newcomer": 8.0, "practised": 6.0, "expert": 6.0}
SLACK_PART = 0.18
# A soft glow takes longer to be seen, one at the edge of sight longer still: from these margins on.
LOOKS = ((1.0, 1.0), (0.4, 1.3), (-9.0, 1.6))
# As many stops as people like before they are tired: five to eight for a family, whoever leads.
MOST_WITH_NEWCOMER, MOST_WITH_FAMILY, MOST_WITH_VISITORS = 8, 8, 12
# Where a kit says for whom, but not how many they are.
USUAL_PEOPLE: dict[Audience, int] = {"alone": 0, "family": 3, "class": 20, "public": 10}


def ease_of(thing: SkyObject) -> Ease:
    """How this object is come by under a usual sky."""
    magnitude = 99.0 if thing.magnitude_v is None else thing.magnitude_v
    if thing.kind in ("moon", "planet"):
        return Ease.FAINT if thing.catalogue_id in FAINT_PLANETS else Ease.BRIGHT
    if thing.kind in ("star", "double star", "minor planet"):
        if magnitude <= BRIGHT_STAR_MAG:
            return Ease.BRIGHT
        return Ease.EASY if magnitude <= EASY_STAR_MAG else Ease.FAINT
    return Ease.EASY if magnitude <= EASY_GLOW_MAG else Ease.FAINT


def find_seconds(kit: Kit, ease: Ease) -> float:
    """Seconds from leaving the last object to having this one in the eyepiece, turning left out."""
    habits = kit.habits
    own = (habits.find_bright_min, habits.find_easy_min, habits.find_faint_min)[ease]
    if own is not None:
        return own * 60.0
    minutes = FIND_MIN[habits.observer][ease]
    motor = kit.mount.motor
    if motor is not None and motor.slew_deg_per_s is not None:
        both = motor.axes == "both"
        minutes = BOTH_MOTORS_MIN if both else minutes * ONE_MOTOR_PART
    return minutes * 60.0


def show_seconds(kit: Kit, minutes_per_stop: float | None = None) -> float:
    """Seconds at the eyepiece of one stop: as asked, or the talk and the looks of all visitors.

    More visitors never shorten a stop: it takes at least as long as a host looks alone.
    """
    habits = kit.habits
    asked = habits.minutes_per_stop if minutes_per_stop is None else minutes_per_stop
    if asked is not None:
        return asked * 60.0
    talk = TALK_MIN if habits.talk_min is None else habits.talk_min
    people = people_at(habits)
    looks = people * habits.seconds_per_visitor
    return max(ALONE_MIN[habits.observer] * 60.0, (talk * 60.0 + looks) if people else 0.0)


def people_at(habits: Habits) -> int:
    """How many people look at each object besides the host: as the kit says, or the usual number of
    those whom it names."""
    return habits.visitors or USUAL_PEOPLE[audience_of(habits)]


def look_factor(margin_mag: float) -> float:
    """How many times the usual time a look takes that has this margin above the threshold."""
    return next((factor for least, factor in LOOKS if margin_mag >= least), LOOKS[-1][1])


def slack_part(kit: Kit) -> float:
    """Share of the planned time that is left free between stops."""
    return SLACK_PART if kit.habits.slack_part is None else kit.habits.slack_part


def most_stops(kit: Kit) -> int | None:
    """As many stops as this host wants of an evening; None: as many as fit."""
    habits = kit.habits
    if habits.most_stops is not None:
        return habits.most_stops
    if people_at(habits) == 0:
        return None
    if habits.observer == "newcomer":
        return MOST_WITH_NEWCOMER
    return MOST_WITH_FAMILY if audience_of(habits) == "family" else MOST_WITH_VISITORS
