"""In which sentences are cautions and assumptions about the pole told?"""

from __future__ import annotations

import math

from axletree.logbook.own import Learned
from axletree.pole.aim.axis_view import DEEPEST_MAG, SCOPE_FIELD_DEG, ViewAssumption
from axletree.pole.aim.scale import ScaleCaution
from axletree.stages.set_up.pole import PoleAnswer, PoleAssumption, PoleCaution
from axletree.tell.logbook.text import learned_words
from axletree.tell.north.cautions_text import model_age_words


def caution_words(answer: PoleAnswer) -> list[str]:
    """What can hurt or mislead here, a sentence or two each."""
    return [
        _scale_caution(answer, caution)
        if isinstance(caution, ScaleCaution)
        else _caution(answer, caution)
        for caution in answer.cautions
    ]


def _scale_caution(answer: PoleAnswer, caution: ScaleCaution) -> str:
    target, setting = answer.target, answer.setting
    if caution is ScaleCaution.SCALE_ENDS:
        end = setting.scale_end_deg
        assert end is not None
        side = "down" if setting.setting_deg < end else "up"
        return (
            f"The scale ends at {end:g}°, {abs(setting.setting_deg - end):.1f}° short of the pole. "
            f"Tip the base by that much ({side}wards at the pole's side) with a wedge or by leg "
            "lengths, check that it can't fall over, and lay an inclinometer along the axis "
            "instead."
        )
    if caution is ScaleCaution.AXIS_NEARLY_FLAT:
        return (
            f"At latitude {target.true_altitude_deg:.0f}° the axis lies nearly flat: the shaft and "
            "its weights may meet the tripod's legs. Turn the hour axis through a whole turn by "
            "hand, without the tube, before you trust it; a leg turned to the pole's side or an "
            "extension column helps."
        )
    if caution is ScaleCaution.POLE_ON_HORIZON:
        return (
            "The pole stands on the horizon: it can't be seen, and refraction there changes by "
            "arcminutes from hour to hour. Use the level, the compass or a shadow, and the drift "
            "of stars."
        )
    return (
        "So close to the geographic pole the axis stands upright: its direction along the "
        f"horizon matters little (1° of it is "
        f"{60.0 * math.cos(math.radians(target.altitude_deg)):.1f}′ on the sky), levelling "
        "matters most."
    )


def _caution(answer: PoleAnswer, caution: PoleCaution) -> str:
    too_old = "".join(model_age_words(answer.magnetic))
    words = {
        PoleCaution.STEEL: "Read the compass two metres from steel, cars and the mount.",
        PoleCaution.MAGNETIC_MODEL_DATE: f"Magnetic model: {too_old}.",
        PoleCaution.COMPASS_POOR: _magnetic_zone("caution", "a compass is poor here"),
        PoleCaution.COMPASS_USELESS: _magnetic_zone("blackout", "don't use a compass here"),
        PoleCaution.HEAD_CAN_DROP: (
            "Hold the tube, or take it off, while you turn the bolts: a head can drop suddenly."
        ),
        PoleCaution.SUN_IS_UP: (
            "The Sun is up: leave the caps on tube and finder while you set up, and never look "
            "near it."
        ),
    }
    return words[caution]


def _magnetic_zone(zone: str, trust: str) -> str:
    return f"Magnetic {zone} zone: {trust}; take north from the Sun, a star or a landmark."


def assumed_words(answer: PoleAnswer, learned: Learned | None = None) -> list[str]:
    """What the answer takes for granted; `learned`: what a logbook brought into its kit."""
    return [
        *(_view_assumption(answer, assumption) for assumption in answer.axis_view.assumed),
        *(() if learned is None else learned_words(learned)),
        *(_assumption(answer, assumption) for assumption in answer.assumptions),
    ]


def _view_assumption(answer: PoleAnswer, assumption: ViewAssumption) -> str:
    if assumption is ViewAssumption.EYE_BEHIND_BORE:
        bore = answer.axis_view.bore
        assert bore is not None
        return (
            f"an eye {bore.eye_distance_mm:.0f} mm behind the bore with a pupil of "
            f"{bore.eye_pupil_mm:.0f} mm"
        )
    if assumption is ViewAssumption.SCOPE_FIELD:
        return f"a polar scope with a field of {SCOPE_FIELD_DEG:.0f}°"
    return f"a polar scope that shows stars to magnitude {DEEPEST_MAG:.0f}"


def _assumption(answer: PoleAnswer, assumption: PoleAssumption) -> str:
    if assumption is PoleAssumption.GUESSED_BOLTS:
        values = ", ".join(
            f"{bolt.key.replace('_', ' ')} {bolt.value:g}" for bolt in answer.guessed_bolts
        )
        return f"guessed from the mount's size: {values}"
    if assumption is PoleAssumption.SCALE_UNCHECKED:
        return "the altitude scale was never checked: it may be half a degree out"
    if assumption is PoleAssumption.STANDARD_PRESSURE:
        return "pressure of the standard atmosphere at this elevation"
    limit = answer.naked_eye_limit_mag
    return f"an ordinary sky: stars to magnitude {limit:.1f} with the bare eye"
