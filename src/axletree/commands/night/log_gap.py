"""How near did parts of the mount come? A touch, or what was left between them."""

from __future__ import annotations

import argparse
import re
import secrets
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, parse_moment, read_kit
from axletree.commands.shared.own_state import notes_here
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from datetime import datetime

    from axletree.kit.kit import Kit
    from axletree.logbook.axis_notes import AxisNotes
    from axletree.mount.learned.learn import LearnedRig

TOUCH, GAP, LIST = "touch", "gap", "gaps"


def gap_options(parser: argparse.ArgumentParser) -> None:
    """Arguments of a touch and a gap."""
    parser.add_argument("--side", choices=("east", "west"), metavar="SIDE",
                        help="tube side of a touch or gap: east or west")  # fmt: skip
    parser.add_argument("--left", metavar="LENGTH", help="the gap that was left: 15mm, 0.6in")
    parser.add_argument("--error", metavar="LENGTH", help="how well that is known (5mm; touch 3mm)")
    parser.add_argument("--circles", metavar="'H D'",
                        help="the pose by the circles: hour angle, declination")  # fmt: skip


def concerns(options: argparse.Namespace) -> bool:
    """Whether an action is about gaps."""
    first = options.words[0] if options.words else ""
    adds = options.action == "add" and first in (TOUCH, GAP)
    return adds or options.action == LIST or (options.action, options.words) == ("undo", [GAP])


def gaps(options: argparse.Namespace) -> Answer:
    """Note one, list all, or take the latest back; a demo kit has no notes beside it."""
    from axletree.tell.learned.data import gaps_data
    from axletree.tell.learned.text import gap_taken_back_text, gaps_text

    kit = read_kit(options)
    notes, zone, units = notes_here(options, kit), kit.site.zone, kit.habits.units
    at = parse_moment(options.at, kit.site)
    if options.action == "add":
        return _add(options, kit, notes, at)
    if options.action == "undo":
        gone = notes.take_back_gap()
        if gone is None:
            raise AxletreeError(f"{notes.file}: no gap of this rig was noted")
        data = gaps_data([gone], None, zone, units, taken_back=True)
        return Answer(gap_taken_back_text(gone, zone, units), data)
    if options.words:
        raise AxletreeError(f"log gaps: '{options.words[0]}' is a word too many")
    every, learned = notes.gaps(at), _learned(kit, notes, at)
    text = gaps_text(every, learned, zone, units)
    return Answer(text, gaps_data(every, learned, zone, units))


def _add(options: argparse.Namespace, kit: Kit, notes: AxisNotes, at: datetime) -> Answer:
    from axletree.commands.shared.quantities import distance_mm
    from axletree.stages.target.gap import GapRequest, gap_note
    from axletree.tell.learned.data import gaps_data
    from axletree.tell.learned.text import gap_noted_text

    kind, name = options.words[0], " ".join(options.words[1:]).strip()
    if kit_folder(options) is None:
        raise AxletreeError("a demo kit learns nothing: name your own kit with --kit FILE")
    if options.side is None:
        raise AxletreeError(f"log add {kind}: on which tube side? --side east or --side west")
    if (options.left is None) == (kind == GAP):
        raise AxletreeError(
            "log add gap: how much was left? --left 15mm" if kind == GAP
            else "log add touch: a touch leaves nothing; --left belongs to 'log add gap'"
        )  # fmt: skip
    circles = None if options.circles is None else _circles(options.circles)
    if not name and circles is None:
        raise AxletreeError(f"log add {kind}: on which object? or give --circles '-2.5 46'")
    request = GapRequest(
        at, options.side, 0.0 if options.left is None else distance_mm(options.left),
        secrets.token_hex(8), name, circles,
        None if options.error is None else distance_mm(options.error), kit_folder(options),
    )  # fmt: skip
    note = gap_note(kit, request)
    notes.note_gap(note)
    learned, zone, units = _learned(kit, notes, at), kit.site.zone, kit.habits.units
    return Answer(
        gap_noted_text(note, notes.file, learned, zone, units),
        gaps_data(notes.gaps(at), learned, zone, units),
    )


def _learned(kit: Kit, notes: AxisNotes, at: datetime) -> LearnedRig | None:
    from axletree.logbook.state import state_of
    from axletree.mount.learned.learn import learned_rig

    return learned_rig(kit, state_of(notes, kit, at))


def _circles(text: str) -> tuple[float, float]:
    words = re.split(r"[\s;]+", text.strip().replace("−", "-"))
    try:
        hour, declination = (float(word.replace(",", ".")) for word in words)
    except ValueError:
        raise AxletreeError(
            f"--circles '{text}': write hour angle and declination, for example '-2.5 46'"
        ) from None
    return hour, declination
