"""In which sentences is the room of both tube sides told?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.axis.state import State
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.room.ends import End
from axletree.mount.room.reach import Stretch
from axletree.stages.target.room import RoomAnswer, RoomCaution, RoomObject
from axletree.tell.learned.text import assumed_of_rig
from axletree.tell.point.cautions_text import guessed_words, refusal_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    day_and_clock,
    day_words,
    degrees,
    hours_minutes,
    length,
)
from axletree.tell.side.text import end_words, side_reason_words
from axletree.tell.skyline.text import skyline_words


@dataclass(frozen=True)
class RoomDrawingWords:
    """What stands on the drawing beside the map itself."""

    title: str
    description: str
    sub: str
    sides: tuple[str, str]
    reaches: tuple[str, str]
    weights_up: str
    weights_down: str
    before_the_meridian: str
    after_it: str
    all_night: str
    tints: tuple[str, ...]
    out_of_reach: str
    figures: str


def axes_words(state: State) -> str:
    """That the rig stands on its own axes, and by which evening's notes."""
    return (
        f"the rig stands on this mount's own axes by the notes of the evening of "
        f"{day_words(state.evening)}; --as-kit leaves them out"
    )


def room_text(answer: RoomAnswer) -> str:
    """Shares of the sky, then by declination from where to where each side can follow."""
    kit = answer.kit
    part = {k: f"{v * 100:.0f} %" for k, v in answer.shares.items()}
    head = (
        f"Side east reaches {part['east']} of the open sky, side west {part['west']}, one or the "
        f"other {part['either']}; {part['weights_down']} with the weights below the tube."
    )
    margin = length(kit.habits.clearance_margin_mm, kit.habits.units)
    assumed = [
        f"open sky: above the skyline and {kit.habits.lowest_altitude_deg:g}°; parts keep "
        f"{margin} apart",
        *([] if answer.state is None else [axes_words(answer.state)]),
        *assumed_of_rig(answer.learned, kit.site.zone, kit.habits.units),
        *guessed_words(kit),
        *skyline_words(answer.horizon),
    ]
    return sections(
        paragraph(head),
        listed("The objects that you named:", [_named(o, kit) for o in answer.objects]),
        _table(answer.stretches),
        listed("Why the stretches end in contact:", _contacts(answer.stretches)),
        listed("Assumed:", assumed),
        listed("Cautions:", caution_words(answer)),
    )


def caution_words(answer: RoomAnswer) -> list[str]:
    """The cautions, a sentence each."""
    words = {
        RoomCaution.HOLD_THE_SHAFT: (
            "East of the meridian on side east, and west of it on side west, the weights are "
            "above the tube: hold the shaft while a lock is open."
        ),
        RoomCaution.LOOK_BEFORE_TURNING: "Look at tripod, cables and people before every turn.",
    }
    return [words[caution] for caution in answer.cautions]


def reason_words(named: RoomObject, units: str) -> str:
    """Why the better side of an object is the better one, or why there is none."""
    if named.choice is None:
        assert named.refusal is not None
        return refusal_words(named.refusal)
    return side_reason_words(named.choice, units)


def _named(named: RoomObject, kit: Kit) -> str:
    reason = reason_words(named, kit.habits.units)
    if named.choice is None or not named.choice.better:
        return f"{named.thing.name}: {reason}"
    return f"{named.thing.name}: side {named.choice.better}. {reason}"


def _table(rows: Sequence[Stretch]) -> str:
    lines = ["Hour angles over which each side can follow (east of the meridian negative):",
             f"  {'':<7}{'side east':<35}{'side west'}"]  # fmt: skip
    for d in sorted({r.declination_deg for r in rows}, reverse=True):
        columns = []
        own = [r for r in rows if r.declination_deg == d]
        columns.append([_stretch(r) for r in own if r.side == "east"])
        columns.append([_stretch(r) for r in own if r.side == "west"])
        for k in range(max(len(c) for c in columns)):
            east, west = (c[k] if k < len(c) else "" for c in columns)
            label = degrees(d, 0, signed=bool(d)) if k == 0 else ""
            lines.append(f"  {label:<7}{east:<35}{west}".rstrip())
    return "\n".join(lines)


def _stretch(row: Stretch) -> str:
    if row.ends.by is End.NOTHING:
        return "all round"
    begin, end = (hours_minutes((h + 12) % 24 - 12, signed=True) for h in (row.from_h, row.to_h))
    return f"{begin} to {end} ({row.ends.by.key})"


def _contacts(rows: Sequence[Stretch]) -> list[str]:
    words: dict[str, list[float]] = {}
    for r in rows:
        if r.ends.by is End.CONTACT:
            words.setdefault(f"side {r.side}: {end_words(r.ends)}", []).append(r.declination_deg)
    out = []
    for text, at in words.items():
        spots = ", ".join(degrees(d, 0, signed=bool(d)) for d in at)
        out.append(f"{text} (declination {spots})")
    return out


def drawing_words(answer: RoomAnswer) -> RoomDrawingWords:
    """All words of the drawing; sides east and west in turn."""
    kit = answer.kit
    sub = (
        f"{kit.site.name}, {kit.tube.label} on {kit.mount.label}; parts keep "
        f"{kit.habits.clearance_margin_mm:g} mm apart"
    )
    if any(named.choice is not None for named in answer.objects):
        sub += f"; objects at {day_and_clock(answer.at, kit.site.zone)}"
    return RoomDrawingWords(
        title="How long each tube side can follow",
        description="Room of both tube sides over hour angle and declination.",
        sub=sub,
        sides=("tube on side east", "tube on side west"),
        reaches=(_reaches(answer.shares["east"]), _reaches(answer.shares["west"])),
        weights_up="weights up",
        weights_down="weights down",
        before_the_meridian="hour angle: east of the meridian",
        after_it="west of it; the sky moves to the right",
        all_night="all",
        tints=("under 30 min", "30 min to 1 h", "1 to 2 h", "2 to 4 h", "over 4 h"),
        out_of_reach="open sky, but out of reach",
        figures="Figures: room from there on. White: behind the skyline or too low.",
    )


def _reaches(share: float) -> str:
    return f"reaches {share * 100:.0f} % of the open sky"
