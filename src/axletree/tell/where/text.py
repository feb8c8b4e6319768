"""In which sentences is told where an object stands?"""

from __future__ import annotations

from axletree.sky.sun_rule import SunReason
from axletree.stages.target.where import WhereAnswer, WhereCaution
from axletree.tell.orbit.text import orbit_words
from axletree.tell.shared.paragraphs import paragraph
from axletree.tell.shared.text import rotation_words
from axletree.tell.shared.words import (
    compass_point,
    day_and_seconds,
    degrees,
    degrees_minutes,
    hours_minutes,
)


def where_text(answer: WhereAnswer) -> str:
    """The place in the sky, a line each figure."""
    lines = [
        headline(answer),
        f"  {_spot(answer)}, {day_and_seconds(answer.at)}",
        f"  right ascension  {_sexagesimal(answer.right_ascension_h)} (apparent, of date)",
        f"  declination      {degrees_minutes(answer.declination_deg, signed=True)}",
        f"  hour angle       {hours_minutes(answer.hour_angle_h, signed=True)} (west positive)",
        f"  azimuth          {answer.azimuth_deg:.2f}° from true north through east",
        f"  altitude         {degrees(answer.altitude_deg, 2)} as seen, "
        f"{degrees(answer.altitude_true_deg, 2)} without air",
    ]
    if answer.airmass is not None:
        lines.append(f"  airmass          {answer.airmass:.2f}")
    words = {
        WhereCaution.SUN: "never look at the Sun, nor point an unfiltered tube near it.",
        WhereCaution.NEAR_THE_SUN: _near_the_sun(answer),
    }
    lines += [paragraph(f"Caution: {words[caution]}", "  ") for caution in answer.cautions]
    lines += [paragraph(f"Mind: {words}.", "  ") for words in orbit_words(answer.target)]
    if answer.doubts:
        lines.append(paragraph(rotation_words(answer.doubts), "  "))
    return "\n".join(lines)


def headline(answer: WhereAnswer) -> str:
    """'Vega stands 34.1° high in the west-north-west.'"""
    target, point = answer.target, compass_point(answer.azimuth_deg)
    called = f" ({', '.join(target.common_names[:2])})" if target.common_names else ""
    if answer.up:
        return f"{target.name}{called} stands {degrees(answer.altitude_deg)} high in the {point}."
    below = degrees(answer.altitude_true_deg)
    return f"{target.name}{called} is below the horizon ({below}), {point}."


def caution_words(answer: WhereAnswer) -> list[str]:
    """The cautions, a sentence each."""
    words = {
        WhereCaution.SUN: "Never look at the Sun or point an unfiltered tube near it.",
        WhereCaution.NEAR_THE_SUN: _near_the_sun(answer)[:1].upper() + _near_the_sun(answer)[1:],
    }
    return [words[caution] for caution in answer.cautions]


def _near_the_sun(answer: WhereAnswer) -> str:
    if answer.refusal is None:
        return ""
    does = "is up" if answer.refusal.reason is SunReason.UP else "rises in a few minutes"
    return (
        f"only {answer.refusal.separation_deg:.0f}° from the Sun, which {does}: point no tube and "
        "no finder there."
    )


def _spot(answer: WhereAnswer) -> str:
    if answer.site_name:
        return answer.site_name
    return f"{answer.observer.latitude_deg:g}, {answer.observer.longitude_deg:g}"


def _sexagesimal(hours: float) -> str:
    seconds = round(hours * 3600)
    return f"{seconds // 3600 % 24}h {seconds // 60 % 60:02d}m {seconds % 60:02d}s"
