"""Where in a round field is Moon or planet drawn, how large, and when once more enlarged?"""

from __future__ import annotations

import math

from axletree.find.at_eyepiece.answer import MoonAtEyepiece, PairAtEyepiece, PlanetAtEyepiece
from axletree.find.at_eyepiece.in_view import disc_in_view
from axletree.find.instruments import InstrumentKind
from axletree.find.view import FieldView
from axletree.tell.eyepiece.disc_drawing import LEAST_RADIUS, NUMBERED_FROM, Round, draw_disc
from axletree.tell.shared.sheet import FAINT, PAPER, Point, Sheet

# The round corner where a small disc is larger, its middle aside of the field's.
_INSET, _INSET_ASIDE = 50.0, (168.0, 142.0)
_MOON_FROM = 7.0  # the Moon's radius in a finder from which its phase is drawn


def draws_body(view: FieldView, field: Round) -> bool:
    """Whether the disc itself is drawn: a planet's in an eyepiece, the Moon's where it is large."""
    if view.body is None or isinstance(view.body, PairAtEyepiece) or view.place is None:
        return False
    if view.instrument.kind is InstrumentKind.EYEPIECE:
        return True
    return isinstance(view.body, MoonAtEyepiece) and _disc_radius(view, field) >= _MOON_FROM


def inset_times(view: FieldView, field: Round) -> float | None:
    """How much larger the disc is drawn a second time, in the corner; None where it isn't."""
    if view.instrument.kind is not InstrumentKind.EYEPIECE or not draws_body(view, field):
        return None
    if _disc_radius(view, field) >= LEAST_RADIUS:
        return None
    return _inset_radius(view) / _disc_radius(view, field)


def _disc_radius(view: FieldView, field: Round) -> float:
    """The disc's radius on the sheet at the field's scale."""
    assert isinstance(view.body, MoonAtEyepiece | PlanetAtEyepiece)
    return view.body.diameter_arcsec / 7200.0 / _plane_deg(view) * field.radius


def _plane_deg(view: FieldView) -> float:
    return math.degrees(math.tan(math.radians(view.radius_deg)))


def _inset_radius(view: FieldView) -> float:
    """The enlarged disc's: rings and the moons nearest to Jupiter have room beside it."""
    assert isinstance(view.body, MoonAtEyepiece | PlanetAtEyepiece)
    if isinstance(view.body, PlanetAtEyepiece) and view.body.rings is not None:
        return _INSET / (view.body.rings.outer_arcsec / view.body.diameter_arcsec + 0.2)
    return _INSET * (0.55 if isinstance(view.body, PlanetAtEyepiece) and view.body.moons else 0.8)


def draw_body(sheet: Sheet, view: FieldView, field: Round) -> float:
    """Draw it at its place, and a small one once more in a free corner; its radius on the sheet."""
    assert view.body is not None
    assert view.place is not None
    spot = _spot(view.place, field)
    matrix, radius = view.turned.matrix(), _disc_radius(view, field)
    draw_disc(sheet, view.body, matrix, spot, radius, field)
    times = inset_times(view, field)
    if times is not None:
        middle = _free_corner(view, field)
        sheet.circle(middle, _INSET, width=1.2, stroke=FAINT, fill=PAPER)
        draw_disc(sheet, view.body, matrix, middle, radius * times, Round(middle, _INSET))
    return radius


def is_numbered(view: FieldView, field: Round) -> bool:
    """Whether numbers stand at the Moon's features."""
    return (
        isinstance(view.body, MoonAtEyepiece)
        and draws_body(view, field)
        and _disc_radius(view, field) >= NUMBERED_FROM
    )


def moon_spots(view: FieldView, field: Round) -> list[Point]:
    """Where a planet's moons are drawn."""
    if not draws_body(view, field) or view.body is None or view.place is None:
        return []
    disc = disc_in_view(view.body, view.turned.matrix())
    x, y = _spot(view.place, field)
    r = _disc_radius(view, field)
    return (
        [] if disc is None else [(x + r * a, y - r * b) for m, (a, b) in disc.moons if m.state.seen]
    )


def _free_corner(view: FieldView, field: Round) -> Point:
    """The middle of the corner that north and the drift leave freest; upper left stands 'up'."""
    marks = (view.turned.north_deg, view.turned.drift_deg)

    def free(corner_deg: float) -> float:
        return min(abs((mark - corner_deg + 180.0) % 360.0 - 180.0) for mark in marks)

    across, along = _INSET_ASIDE
    corners = {135.0: (across, along), 225.0: (-across, along), 45.0: (across, -along)}
    x, y = corners[max(corners, key=free)]
    return field.middle[0] + x, field.middle[1] + y


def _spot(place: tuple[float, float], field: Round) -> Point:
    return field.middle[0] + place[0] * field.radius, field.middle[1] - place[1] * field.radius
