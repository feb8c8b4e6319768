"""How is the whole answer about the pole drawn: the view along the axis, and the way through it?"""

from __future__ import annotations

from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.pole.drawing import HEIGHT, WIDTH, pole_view_sheet, pole_view_svg
from axletree.tell.pole.swing_drawing import HEIGHT as SWING_HEIGHT
from axletree.tell.pole.swing_drawing import WIDTH as SWING_WIDTH
from axletree.tell.pole.swing_drawing import swing_sheet
from axletree.tell.pole.text import drawing_rows
from axletree.tell.pole.tube_text import looked_through_tube
from axletree.tell.shared.sheet import Sheet


def pole_drawing(answer: PoleAnswer) -> str:
    """The view as SVG text; below it the swing, where the tube is looked through."""
    tube = looked_through_tube(answer)
    rows = drawing_rows(answer)
    if not tube:
        return pole_view_svg(answer.view, rows)
    swing = swing_sheet(answer)
    whole = Sheet(SWING_WIDTH, HEIGHT + SWING_HEIGHT, swing.title, swing.description)
    view = pole_view_sheet(answer.view, rows, tube)
    whole.place(((SWING_WIDTH - WIDTH) / 2.0, 0.0), view)
    whole.place((0.0, HEIGHT), swing)
    return whole.svg()
