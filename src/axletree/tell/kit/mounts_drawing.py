"""Which of these mounts is yours, by its look? The three sizes beside a person, at one scale.

Each is drawn from the lengths that stand in for what nobody measured, with a tube such as it
carries; weights down, the tube along the polar axis, from the east.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.kit import check_text
from axletree.kit.writing.template import NewKit, text_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.tell.kit.drawing_text import mount_title
from axletree.tell.shared.rig_side import SheetFrame, draw_rods
from axletree.tell.shared.rods_drawing import side_views
from axletree.tell.shared.sheet import FAINT, INK, Sheet

WIDE, HIGH = 200.0, 218.0
_PX_PER_M, _FOOT = 97.0, 6.0
_PERSON_M = 1.7  # how tall the person beside it is
# A tube such as each carries, common practice, no source: kind, aperture and focal length in mm.
_CARRIES = {
    "small": ("refractor", 70.0, 700.0),
    "middle": ("newtonian", 130.0, 650.0),
    "large": ("newtonian", 200.0, 1000.0),
}
MOUNT_SIZES = tuple(_CARRIES)
_LATITUDE_DEG = 45.0


def mount_drawing(size: str) -> str:
    """The drawing as SVG text; `size` is one of MOUNT_SIZES."""
    kind, aperture, focal = _CARRIES[size]
    new = NewKit(place=f"{_LATITUDE_DEG}, 0", kind=kind, aperture_mm=aperture,
                 focal_length_mm=focal, size=size)  # fmt: skip
    kit = check_text(text_of(new))[0]
    if kit is None:
        raise ValueError(f"no kit of the size {size}")
    rig, axes = build_rig(kit), align(_LATITUDE_DEG)
    frame = SheetFrame(side_views(axes.sense)[0], 126.0, HIGH - _FOOT, _PX_PER_M)
    sheet = Sheet(WIDE, HIGH, mount_title(size))
    sheet.line((4, HIGH - _FOOT), (WIDE - 4, HIGH - _FOOT), stroke=INK, width=2.2)
    _person(sheet, 30.0)
    draw_rods(sheet, rig, axes, (0.0, 0.0), frame)
    return sheet.svg()


def _person(sheet: Sheet, x: float) -> None:
    """A person's outline: head, and a body that tapers to the feet."""
    scale = _PERSON_M * _PX_PER_M
    ground = HIGH - _FOOT
    head = ground - 0.935 * scale
    turn = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    sheet.path([(x + 0.052 * scale * np.cos(t), head + 0.066 * scale * np.sin(t)) for t in turn],
               stroke=FAINT, width=1.6, closed=True)  # fmt: skip
    side = [(0.03, 0.86), (0.115, 0.815), (0.14, 0.70), (0.125, 0.47), (0.095, 0.47), (0.10, 0.66),
            (0.085, 0.52), (0.075, 0.03), (0.095, 0.0), (0.02, 0.0), (0.012, 0.44)]  # fmt: skip
    right = [(x + a * scale, ground - b * scale) for a, b in side]
    left = [(x - a * scale, ground - b * scale) for a, b in reversed(side)]
    sheet.path([*right, *left], stroke=FAINT, width=1.6, closed=True)
