"""What will the eye see on the way? The fields of finder and eyepieces, side by side."""

from __future__ import annotations

from axletree.find.finding import Finding
from axletree.find.view import FieldView
from axletree.stages.target.find import FindAnswer
from axletree.tell.find.text import first_words, headline
from axletree.tell.find.view_drawing import WIDTH, field_view_sheet
from axletree.tell.shared.sheet import Sheet

_HEAD = 76.0


def find_drawing(answer: FindAnswer) -> str:
    """The drawing as SVG text, of an answer that holds a finding."""
    found = answer.finding
    if found is None:
        return Sheet(WIDTH, _HEAD, headline(answer)).svg()
    shown = [view for view in views_in_order(found) if view is not None]
    inner = [field_view_sheet(view, answer.thing.name, driven=answer.driven) for view in shown]
    height = _HEAD + max(sheet.height for sheet in inner)
    sheet = Sheet(WIDTH * len(inner), height, headline(answer), first_words(answer))
    sheet.text((24, 38), headline(answer), size=26, weight=600)
    sheet.text_within((24, 66), first_words(answer), sheet.width - 48, size=19)
    for k, one in enumerate(inner):
        sheet.place((k * WIDTH, _HEAD), one)
    return sheet.svg()


def views_in_order(found: Finding) -> tuple[FieldView | None, ...]:
    """Finder, the eyepiece to find with, the one to look with."""
    return found.views.finder, found.views.weakest, found.views.planned
