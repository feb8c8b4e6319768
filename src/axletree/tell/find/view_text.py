"""Which words stand on the drawing of a field?"""

from __future__ import annotations

from axletree.find.at_eyepiece.answer import MoonAtEyepiece
from axletree.find.instruments import Instrument, InstrumentKind, Look
from axletree.find.view import FieldView, OutlineSeen
from axletree.kit.frozen import dataclass
from axletree.tell.shared.words import dial_place, small

_KINDS = {
    InstrumentKind.BARE_EYE: "With the bare eye",
    InstrumentKind.PLAIN_SIGHT: "Through the sight",
    InstrumentKind.FINDER: "In the finder",
}
# Beyond this nobody counts more closely.
_COARSE_TIMES = 20.0


@dataclass(frozen=True)
class ViewWords:
    """What stands on a view's drawing beside the sky itself; `rows` below it."""

    title: str
    description: str
    head: str
    below_head: str
    up: str
    north: str
    drift: str
    rows: tuple[str, ...]


def view_words(
    view: FieldView,
    name: str,
    *,
    marked: bool = False,
    driven: bool = False,
    enlarged: float | None = None,
    numbered: bool = False,
) -> ViewWords:
    """All words of the drawing; `name` is the object's, '' without one.

    `marked`: a broken ring stands for its outline. `driven`: a motor holds the field, so that
    things drift only when it stands. `enlarged`: so many times larger the disc stands in a corner;
    `numbered`: numbers stand at the Moon's features.
    """
    head, field = head_words(view.instrument), field_words(2.0 * view.radius_deg)
    title = f"{name}: {small(head)}" if name else head
    below = f"{field} from edge to edge · {look_words(view)}"
    return ViewWords(
        title=title,
        description=(
            f"{below}. North is {half_hour(view.turned.north_deg)}; things leave "
            f"{half_hour(view.turned.drift_deg)}. {len(view.x)} stars."
        ),
        head=head,
        below_head=below,
        up="up",
        north="north",
        drift="drift",
        rows=tuple(_rows(view, name, marked, driven) + _body_rows(view, name, enlarged, numbered)),
    )


NORTH_MARK = "N"


def small_view_words(view: FieldView, name: str) -> tuple[str, str]:
    """Title and description of the small drawing, for who cannot see it."""
    head, field = head_words(view.instrument), field_words(2.0 * view.radius_deg)
    return (
        f"{name}: {small(head)}, {field} from edge to edge",
        f"North is {half_hour(view.turned.north_deg)}; things leave "
        f"{half_hour(view.turned.drift_deg)}. {len(view.x)} stars.",
    )


def half_hour(clockwise_deg: float) -> str:
    """A way on a clock face to the half hour: 'at 4', 'midway from 4 to 5'."""
    return dial_place((15.0 * round(clockwise_deg / 15.0) % 360.0) / 30.0)


def head_words(instrument: Instrument) -> str:
    """What is looked through, with its power."""
    if instrument.kind is InstrumentKind.EYEPIECE:
        return f"Eyepiece {instrument.label}, {instrument.magnification:.0f} times"
    words = _KINDS[instrument.kind]
    if instrument.kind is InstrumentKind.FINDER:
        return f"{words}, {instrument.magnification:g}×{instrument.aperture_mm:.0f} mm"
    return words


def field_words(field_deg: float) -> str:
    """A field's width: degrees, below one degree arcminutes."""
    if field_deg < 1.0:
        return f"{60.0 * field_deg:.0f}′"
    return f"{field_deg:.0f}°" if field_deg >= 9.5 else f"{field_deg:.1f}°".replace(".0°", "°")


def look_words(view: FieldView) -> str:
    """How things look in it."""
    if view.turned.mirrored:
        return "mirrored"
    if view.instrument.look is Look.UPSIDE_DOWN:
        return "upside down"
    return "turned, not mirrored" if view.instrument.look is None else "upright"


def _rows(view: FieldView, name: str, marked: bool, driven: bool) -> list[str]:
    rows = [_stars_words(view)]
    if view.companion_deg is not None:
        rows.append(f"The fainter star stands {half_hour(view.companion_deg)} of the brighter.")
    elif name and marked and view.outline is not None:
        rows.append("The broken ring marks it; it is smaller.")
    if name and not marked and view.outline is not None:
        rows += _outline_rows(view.outline, name)
    if view.instrument.rings_deg:
        radii = " and ".join(f"{radius:g}°" for radius in view.instrument.rings_deg)
        rows.append(f"Rings at {radii} from the middle.")
    if driven:
        rows.append("Things drift so when the motor stands.")
    return rows


def _body_rows(view: FieldView, name: str, enlarged: float | None, numbered: bool) -> list[str]:
    rows = []
    if enlarged is not None:
        rows.append(f"In the corner {name}, {enlarged:.0f} times larger.")
    if numbered and isinstance(view.body, MoonAtEyepiece):
        named = [f"{n} {lit.feature.name}" for n, lit in enumerate(view.body.features, 1)]
        rows += [", ".join(some) for some in (named[:3], named[3:]) if some]
    return rows


def _outline_rows(seen: OutlineSeen, name: str) -> list[str]:
    rows = []
    if seen.semi_major > 1.0:
        rows.append(f"{name} is larger than the field.")
    if not seen.lie_known:
        rows.append(f"How {name} lies is not known: its outline is drawn round.")
    return rows


def _stars_words(view: FieldView) -> str:
    if view.limit_mag <= view.list_limit_mag:
        return f"Stars to V {view.limit_mag:.1f}: all that show."
    times = view.times_as_many
    if times < 1.2:
        return f"Stars to V {view.list_limit_mag:g}: nearly all that show."
    about = f"{times:.0f}" if times < _COARSE_TIMES else f"{round(times, -1):.0f}"
    if times < 2.5:
        about = f"{times:.1f}"
    return f"Stars to V {view.list_limit_mag:g}; about {about} times as many show."
