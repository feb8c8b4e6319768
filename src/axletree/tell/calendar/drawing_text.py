"""Which words stand on the drawing of the nights, and in the calendar file?"""

from __future__ import annotations

from datetime import date

from axletree.evening.year.nights_scored import ScoredNight
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.events.moon_phases import SkyDate
from axletree.sky.special.kinds import SpecialNight
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.calendar.text import figures_words, reason
from axletree.tell.special.text import SUN_CAUTION, special_short


@dataclass(frozen=True)
class DrawingWords:
    """What stands on the drawing beside the nights themselves."""

    title: str
    description: str
    heading: str
    place: str
    best: str
    deep_sky: str
    bodies: str
    moon: tuple[str, str]
    foot: str


def drawing_words(answer: CalendarAnswer) -> DrawingWords:
    """All words of the drawing but those of single nights."""
    nights, place = answer.calendar.nights, answer.kit.site.name
    first, last = nights[0].date, nights[-1].date
    span = f"{_brief_day(first)} {first.year} to {_brief_day(last)} {last.year}"
    top = max(answer.best, key=lambda n: n.score, default=None)
    best = "None: there is no darkness for stars in these hours."
    if top is not None:
        best = f"{top.date:%A} {_brief_day(top.date)} {top.date.year}, {figures_words(top)}"
    caution = f" {SUN_CAUTION}" if any(one.of_the_sun for one in answer.special) else ""
    return DrawingWords(
        title=f"Which night? {place}",
        description=f"Score of every night from {span}.",
        heading="Which night?",
        place=f"{place}, {span}",
        best=best,
        deep_sky="deep sky",
        bodies="planets",
        moon=("dusk", "late"),
        foot=(
            "A tooth is a night, as tall as its score. Brass: the nights to choose. Under the rule "
            "the same for the deep sky, and for Moon and planets. Below them a band of the hours "
            "of showing, from dusk down to their end, filled while the Moon is up, the stronger "
            f"the more of it is lit. Diamonds: what the sky has on that evening.{caution}"
        ),
    )


def night_label(night: ScoredNight) -> str:
    """'Sat 5 Dec, 61' at a chosen night."""
    return f"{night.date:%a} {_brief_day(night.date)}, {night.score:.0f}"


def month_label(day: date, *, year: bool) -> str:
    """'December', or 'December 2026'."""
    return f"{day:%B}" + (f" {day.year}" if year else "")


def phase_label(phase: SkyDate) -> str | None:
    """'new Moon 9'; None for the quarters, which the drawing leaves out."""
    if phase.name == "new":
        return f"new Moon {phase.time.date().day}"
    return f"full Moon {phase.time.date().day}" if phase.name == "full" else None


def special_label(night: SpecialNight) -> str:
    """'27 eclipse of the Moon' beside a diamond; the full words stand in the text."""
    return f"{night.day.day} {special_short(night)}"


def _brief_day(day: date) -> str:
    return f"{day.day} {day:%b}"


def file_name(kit: Kit) -> str:
    """What the calendar file is called in somebody's calendar."""
    return f"Nights for the telescope: {kit.site.name}"


def file_summary(night: ScoredNight) -> str:
    """The heading of a night in the calendar file."""
    return f"Telescope night, {figures_words(night)}"


def file_description(night: ScoredNight, kit: Kit) -> str:
    """What is said of a night in the calendar file."""
    return f"{reason(night, kit)} The weather is not in the score."
