"""What is asked on the pupils' work sheet, and what is right?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.stages.target.teach import PASSES_ZENITH_DEG, TeachAnswer
from axletree.tell.shared.words import degrees, to_the_second

# Half of a pupil's minute with a pencil: what is asked beside the time to the edge.
TWICE = 2.0


@dataclass(frozen=True)
class Task:
    """One task: its head, what is to be done, rows to write on, and what is right."""

    head: str
    asked: tuple[str, ...]
    rows: tuple[str, ...]
    right: tuple[str, ...]


def sheet_title() -> str:
    """The head of the sheet."""
    return "Why is one axis enough?"


def place_line(answer: TeachAnswer) -> str:
    """For which place the sheet is made."""
    return f"{answer.place}, latitude {latitude_of(answer.latitude_deg)}"


def latitude_of(latitude_deg: float) -> str:
    """'38.6° north'."""
    half = "north" if latitude_deg >= 0 else "south"
    return f"{degrees(abs(latitude_deg))} {half}"


def tasks(answer: TeachAnswer) -> tuple[Task, ...]:
    """The tasks in their order, with figures of the class's own place and eyepiece."""
    own, star, leaves = answer.latitude_deg, answer.star.name, answer.eyepiece.leaves_s
    pole = "north" if own >= 0 else "south"
    others = answer.latitudes_deg[1:]
    return (
        Task(
            "The axis",
            (
                "The circle is the Earth, the dashed line its axis. The tripod stands on your "
                "ground. Draw the mount's axis through its top, along the Earth's axis.",
                "Measure the angle between it and your ground.",
            ),
            ("The angle is", "My latitude is"),
            (
                f"The angle is {degrees(abs(own))}, as large as the latitude: the {pole} pole of "
                "the sky stands so high.",
            ),
        ),
        Task(
            "Other places",
            ("How high does the pole of the sky stand there, and in which direction?",),
            tuple(f"At latitude {latitude_of(v)}" if v else "On the equator" for v in others),
            tuple(
                f"At latitude {latitude_of(v)}: {degrees(abs(v))}, {'north' if v > 0 else 'south'}."
                if v
                else "On the equator: on the horizon, north and south."
                for v in others
            ),
        ),
        Task(
            "Nothing turns",
            (
                f"{star} stands in the middle of the eyepiece ({answer.eyepiece.label}). Nobody "
                f"touches anything. Guess, then draw {star} into the empty circles. West is left.",
            ),
            (),
            (
                f"After {to_the_second(leaves / TWICE)} half-way to the edge, after "
                f"{to_the_second(leaves)} at the edge: the Earth turns by 15° an hour.",
            ),
        ),
        Task(
            "One axis turns",
            (
                "Now the mount's axis turns against the Earth, as fast. Where is the star after an "
                "hour? How long does one whole turn take?",
            ),
            ("The star is", "One turn takes"),
            ("In the middle. One turn takes 23 h 56 min, as long as the Earth's.",),
        ),
        Task(
            "Overhead",
            (
                f"A star passes {PASSES_ZENITH_DEG:.0f}° from the point overhead. A mount whose "
                "axis points to the pole turns by 15° an hour, always. How fast must a mount turn "
                "whose axis stands upright, at that moment?",
            ),
            ("My guess is",),
            (f"By {answer.rush_deg_per_h:.0f}° an hour, and its tube must move up and down, too.",),
        ),
    )


def circle_words(answer: TeachAnswer) -> tuple[str, str, str]:
    """What stands below the three circles."""
    leaves = answer.eyepiece.leaves_s
    return "at once", f"after {to_the_second(leaves / TWICE)}", f"after {to_the_second(leaves)}"


def answers_head() -> str:
    """The head of the page of answers."""
    return "Answers, for whoever teaches"


def name_line() -> str:
    """Where pupils write who they are."""
    return "Name"


def footer_line() -> str:
    """The foot of every page."""
    return "Never look at the Sun through a telescope or its finder."


def globe_title() -> str:
    """The globe's title."""
    return "The Earth from the side, and your own ground on it"


def globe_description(latitude_deg: float) -> str:
    """The same for those who can't see it."""
    return f"A circle with an upright axis; at {latitude_of(latitude_deg)} the ground touches it."


def circle_title() -> str:
    """The circle's title."""
    return "The eyepiece's circle"


def circle_description(star: str) -> str:
    """The same for those who can't see it."""
    return f"A circle with its middle marked; {star} is drawn into it."
