"""How is the rest of the evening said, short enough for cold fingers?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.evening.sheet.going_on import GoingOn
from axletree.tell.evening.document import Evening
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock, duration


def again_text(
    evening: Evening,
    change: GoingOn,
    now: datetime,
    strangers: Sequence[str] = (),
    noted: datetime | None = None,
) -> str:
    """The stops of `evening`, one a line or two, then what had to go.

    `strangers` are stops of the known run sheet that this kit does not know any more. `noted`: when
    a stop was noted that lies after `now`; None, as clocks should have it.
    """
    zone = ZoneInfo(evening.place.time_zone)
    said = []
    stops, lost_stops = evening.stops, evening.given_up
    count = f"{len(stops)} stop{'s' if len(stops) != 1 else ''}"
    if not stops:
        count = "no stops"
    head = paragraph(f"From {clock(now, zone)} on: {count}.")
    order = f"Order: {evening.order.words}"
    over = evening.order.empty_because == "session over"
    if over:
        order = "For more, give the session more hours in the kit ([habits] hours, stop)."
        said.append(evening.order.words[:1].upper() + evening.order.words[1:])
    if noted is not None:
        said.append(
            f"Is the clock right? A stop was noted at {clock(noted, zone)}, which is later than "
            "now. What was noted counts all the same."
        )
    rows = "\n".join(_row(stop, now, zone) for stop in stops)
    if change.broken:
        said.append(f"A promise can't be kept: {', '.join(change.broken)}. Tell people now.")
    if change.stay_cut_s >= 30:
        said.append(
            f"The present object leaves its room first: {duration(change.stay_cut_s)} less than "
            "you asked for."
        )
    if strangers:
        said.append(f"No longer among tonight's objects: {', '.join(strangers)}.")
    lost = listed("No place any more for:", (f"{x.name}: {x.reason}" for x in lost_stops))
    if over and lost_stops:
        lost = paragraph(f"No place any more for {', '.join(x.name for x in lost_stops)}.")
    return sections(
        head, "\n".join(paragraph(words) for words in said), rows, lost,
        paragraph(order),
    )  # fmt: skip


def _row(stop: StopFacts, now: datetime, zone: ZoneInfo) -> str:
    times = f"{clock(stop.begin, zone)}-{clock(stop.end, zone)}"
    marks = ["goes on"] if stop.begin < now else []
    marks += ["promised"] if stop.promised else []
    weights = ", weights up" if stop.chosen.weights_up else ""
    words = f"{stop.name}: tube {stop.chosen.side}{weights}, {stop.view.eyepiece}"
    if marks:
        words += f" ({', '.join(marks)})"
    warnings = (*stop.turn_warnings, *stop.cautions)
    first = paragraph(words, f"  {times}  ", " " * 15)
    return "\n".join([first, *(paragraph(f"! {w}", " " * 15, " " * 17) for w in warnings)])
