"""How well do a person's eyes and hands do what finding asks of them?

Every figure is one standard deviation and our own, from practice: common practice, no source.
What a logbook has learned takes their place.
"""

from __future__ import annotations

from typing import ClassVar

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.contrast import FIELD_FACTOR, Experience

# A star this much fainter than a limit is seen once in six looks, as much brighter five times.
NOTICE_MAG = 0.3
# Naked-eye stars down to this one are named with the skill's own error; each magnitude fainter
# multiplies it, and none within the margin of the bare eye's limit is named at all.
NAMED_MAG = 2.0
NAMED_FACTOR = 1.6
NAMED_FAINTEST_MAG = 4.5
NAMED_MARGIN_MAG = 1.0


@dataclass(frozen=True)
class Skill:
    """What one person does, and how well.

    `count_turns`: error of a counted run of knob turns, in turns of the knob. `miscount`: chance
    that a run of turns is one turn wrong, for each turn counted. `centre_field`: error of bringing
    a star to the middle of a field, in parts of its radius. `distance_part`: error of a judged
    distance between stars in a field, in parts of that distance, and `distance_field` the least, in
    parts of the field's radius. `brightness_mag`: error of a judged difference of brightness.
    `wrong_bright_star`: chance that a named bright star is taken for another. `sight_deg`: error of
    aiming the finder at a star by the bare eye along the tube, in each of two square directions.
    `field_factor`: how many times the laboratory's contrast a thing needs to be noticed.
    """

    count_turns: float
    miscount: float
    centre_field: float
    distance_part: float
    distance_field: float
    brightness_mag: float
    wrong_bright_star: float
    sight_deg: float
    field_factor: float

    # Whoever turns: seconds of one turn of a knob, of taking hold of a knob and letting it go, of
    # an axis with its lock open, of the first look; and how well such times are kept (ours).
    turn_s: ClassVar[float] = 2.0
    begin_axis_s: ClassVar[float] = 10.0
    lock_s: ClassVar[float] = 30.0
    look_s: ClassVar[float] = 15.0
    # Of a search: going on by a field's width while looking, reaching for the other knob (ours).
    sweep_field_s: ClassVar[float] = 6.0
    change_knob_s: ClassVar[float] = 3.0
    time_part: ClassVar[float] = 0.25
    least_time_s: ClassVar[float] = 10.0


# The faintest star that is told from its surroundings by its brightness alone (ours): about as
# bright as the seven of the Big Dipper and of Orion.
BRIGHT_STAR_MAG = 2.6

# A newcomer who looks for a star 'at 4, 0.35 of the field away' errs by what the words leave open
# (half an hour of the dial, 4 degrees), by the judged direction (some 6 degrees) and by the judged
# part of the field: in the laboratory, unpractised people put a dot back into a circle to within 5
# to 10 % of its radius (J. Huttenlocher, L. V. Hedges, S. Duncan 1991, Psychological Review 98,
# 352; from memory). Brightness: first estimates of variable stars lie within some half magnitude
# of the truth (common practice, no source).
_SKILLS: dict[Experience, Skill] = {
    "newcomer": Skill(
        count_turns=0.10, miscount=0.010, centre_field=0.10,
        distance_part=0.15, distance_field=0.07, brightness_mag=0.6, wrong_bright_star=0.08,
        sight_deg=1.5, field_factor=FIELD_FACTOR["newcomer"],
    ),
    "practised": Skill(
        count_turns=0.05, miscount=0.004, centre_field=0.05,
        distance_part=0.12, distance_field=0.05, brightness_mag=0.5, wrong_bright_star=0.02,
        sight_deg=1.0, field_factor=FIELD_FACTOR["practised"],
    ),
    "expert": Skill(
        count_turns=0.03, miscount=0.002, centre_field=0.04,
        distance_part=0.08, distance_field=0.03, brightness_mag=0.3, wrong_bright_star=0.005,
        sight_deg=0.7, field_factor=FIELD_FACTOR["expert"],
    ),
}  # fmt: skip


def skill_of(experience: Experience) -> Skill:
    """What is assumed of a person of this experience before a logbook knows better."""
    return _SKILLS[experience]


def wrong_named_star(magnitude_v: ArrayLike, skill: Skill) -> Floats:
    """Chance that a naked-eye star of this magnitude is taken for another when it is named."""
    fainter = np.maximum(np.asarray(magnitude_v, dtype=np.float64) - NAMED_MAG, 0.0)
    return np.asarray(np.minimum(skill.wrong_bright_star * NAMED_FACTOR**fainter, 1.0))
