"""How is it said what every telescope of an event shows, when, and why that one?"""

from __future__ import annotations

from datetime import datetime

from axletree.evening.event.allotment import WhyHere
from axletree.evening.event.share import Event, Slot
from axletree.tell.shared.paragraphs import COLUMNS, listed, paragraph, sections
from axletree.tell.shared.words import clock, weekday_words
from axletree.tell.stop.text import given_up_words, order_words, why_here_words

WIDEST_TABLE = 3
CAUTION = (
    "Cords and tripod legs in the dark, queues crossing: leave a lane between the telescopes. "
    "The organiser's safety rules, permits and local codes come first."
)


def event_text(event: Event) -> str:
    """The common table, then who shows what and why, at most 80 columns."""
    answer = event.planned[0].evening
    head = paragraph(
        f"{len(event.labels)} telescopes, {answer.kit.site.name}, {weekday_words(answer.day)}"
    )
    if all(planned.session is None for planned in event.planned):
        return sections(head, paragraph("No telescope has anything to show: it is not dark."))
    if not event.slots:
        return sections(head, *_reasons(event), _left(event))
    return sections(head, _table(event), *_reasons(event), _left(event), paragraph(CAUTION))


def _table(event: Event) -> str:
    if len(event.labels) <= WIDEST_TABLE:
        return _columns(event)
    letters = [chr(ord("A") + k) for k in range(len(event.labels))]
    rows = [f"  {letters[k]}  {label}" for k, label in enumerate(event.labels)]
    rows += [""]
    for slot in event.slots:
        times = f"{_clock(slot.begin, event)}-{_clock(slot.end, event)}"
        rows.append(f"  {times}  {letters[slot.rig]}  {slot.name}"[:COLUMNS])
    return "\n".join(rows)


def _columns(event: Event) -> str:
    """One column a telescope; a name stands where its stop begins."""
    width = (COLUMNS - 7) // len(event.labels)
    rows = ["       " + "".join(_fit(label, width) for label in event.labels).rstrip()]
    for moment in sorted({slot.begin for slot in event.slots}):
        cells = [""] * len(event.labels)
        for slot in event.slots:
            if slot.begin == moment:
                cells[slot.rig] = slot.name
            elif slot.begin < moment < slot.end and not cells[slot.rig]:
                cells[slot.rig] = "  ·"
        line = f"{_clock(moment, event)}  " + "".join(_fit(cell, width) for cell in cells)
        rows.append(line.rstrip())
    ends = max(slot.end for slot in event.slots)
    rows.append(f"{_clock(ends, event)}  end of the last stop")
    return "\n".join(rows)


def _fit(words: str, width: int) -> str:
    cut = words if len(words) < width else words[: width - 2] + "…"
    return cut.ljust(width)


def _reasons(event: Event) -> list[str]:
    made = []
    for k, label in enumerate(event.labels):
        mine = [slot for slot in event.slots if slot.rig == k]
        if not mine:
            made.append(paragraph(f"{label} shows nothing: {_nothing(event, k)}"))
            continue
        made.append(listed(f"{label} shows, and why here:", _grouped(mine, event.labels)))
    return made


def _grouped(slots: list[Slot], labels: tuple[str, ...]) -> list[str]:
    """Objects with the same reason together, in the order in which they are shown."""
    groups: dict[WhyHere, list[str]] = {}
    for slot in slots:
        groups.setdefault(slot.why_here, []).append(slot.name)
    return [f"{', '.join(names)}: {why_here_words(why, labels)}" for why, names in groups.items()]


def _nothing(event: Event, k: int) -> str:
    return order_words(event.planned[k].evening.order)


def _left(event: Event) -> str:
    """What nobody shows, of what some telescope considered."""
    shown = {slot.name for slot in event.slots}
    left: dict[str, str] = {}
    for planned in event.planned:
        for one in planned.evening.given_up:
            if one.name not in shown:
                left.setdefault(one.name, given_up_words(one))
    items = [f"{name}: {reason}" for name, reason in left.items()]
    rest = len(items) - 10
    more = [f"and {rest} more (all are in the JSON)"] if rest > 0 else []
    return listed("Nobody shows:", items[:10] + more)


def _clock(moment: datetime, event: Event) -> str:
    return clock(moment, event.planned[0].evening.kit.site.zone)
