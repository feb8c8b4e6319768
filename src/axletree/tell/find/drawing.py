"""What will the eye see on the way? The fields of finder and eyepieces, side by side."""

from __future__ import annotations

import textwrap

from axletree.find.finding import Finding
from axletree.find.view import FieldView
from axletree.stages.target.find import FindAnswer
from axletree.tell.find.sight_text import sight_words
from axletree.tell.find.text import first_words, headline
from axletree.tell.find.view_drawing import WIDTH, field_view_sheet
from axletree.tell.shared.sheet import Sheet

_HEAD = 76.0
_SIGHT = 24.0  # a line more, where it is told what will be seen
_LETTER_WIDE = 8.6  # of the size of such a line, in the mean


def find_drawing(answer: FindAnswer) -> str:
    """The drawing as SVG text, of an answer that holds a finding."""
    found = answer.finding
    if found is None:
        return Sheet(WIDTH, _HEAD, headline(answer)).svg()
    shown = [view for view in views_in_order(found) if view is not None]
    inner = [field_view_sheet(view, answer.thing.name, driven=answer.driven) for view in shown]
    sight = sight_words(answer)
    wide = WIDTH * len(inner)
    lines = textwrap.wrap(sight, int((wide - 48) / _LETTER_WIDE))
    head = _HEAD + _SIGHT * len(lines)
    height = head + max(sheet.height for sheet in inner)
    sheet = Sheet(wide, height, headline(answer), first_words(answer))
    sheet.text((24, 38), headline(answer), size=26, weight=600)
    sheet.text_within((24, 66), first_words(answer), sheet.width - 48, size=19)
    for k, line in enumerate(lines, 1):
        sheet.text_within((24, 66 + _SIGHT * k), line, sheet.width - 48, size=19)
    for k, one in enumerate(inner):
        sheet.place((k * WIDTH, head), one)
    return sheet.svg()


def views_in_order(found: Finding) -> tuple[FieldView | None, ...]:
    """Finder, the eyepiece to find with, the one to look with."""
    return found.views.finder, found.views.weakest, found.views.planned
