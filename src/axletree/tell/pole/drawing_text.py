"""Which words stand on the drawing of the pole?"""

from __future__ import annotations

from datetime import datetime

from axletree.kit.frozen import dataclass
from axletree.pole.aim.view import Guide, PoleView
from axletree.tell.shared.words import dial_place, own_clock

LOOK_WORDS = {
    "erect": "seen erect",
    "inverted": "seen inverted",
    "mirrored": "seen mirrored",
}


@dataclass(frozen=True)
class DialWords:
    """What stands on the dial beside the sky itself; `engraved` only where the scope has a ring."""

    title: str
    description: str
    head: str
    below_head: str
    axis: str
    now: str
    edge: str
    engraved: str
    outside: str
    whole_field: str


def dial_words(view: PoleView, tube: str = "") -> DialWords:
    """All words of the drawing but the guides' and the lines beside the whole field.

    `tube`: what of the tube is looked through (`tube_words`); '' for the mount's own.
    """
    face, star = dial_place(view.clock_hour), view.star
    middle = "the point that stands still" if tube else "the middle"
    ring = view.engraved_ring_arcmin
    return DialWords(
        title=f"{star} in {tube or 'the polar scope'} at {time_words(view.at)}: {face} on the dial",
        description=(
            f"{star} goes {view.pole_distance_arcmin:.1f} arcminutes from {middle}, {face} "
            "on a dial with twelve at the top."
        ),
        head=f"{star} {face}",
        below_head=(
            f"at {time_words(view.at)} · {view.pole_distance_arcmin:.1f}′ from {middle} · "
            f"{_look_words(view)}"
        ),
        axis="still" if tube else "axis",
        now="now",
        edge="edge of the field",
        engraved="" if ring is None else f"engraved {ring:g}′",
        outside=f"{star} is outside",
        whole_field=f"the whole field, {view.field_deg:.1f}°",
    )


def time_words(iso: str) -> str:
    """Hour and minute of a moment, rounded."""
    return own_clock(datetime.fromisoformat(iso))


def guide_label(guide: Guide) -> str:
    """The words along the rim, the way to a figure that the bare eye sees."""
    return guide.name if guide.up else f"{guide.name} (below the horizon)"


def _look_words(view: PoleView) -> str:
    turned = f", turned {view.rotation_deg:g}°" if view.rotation_deg else ""
    return LOOK_WORDS[view.look] + turned
