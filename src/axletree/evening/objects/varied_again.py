"""How do the objects differ from better ones of their theme that can really be shown?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axletree.evening.objects.choosing import Candidate
from axletree.evening.objects.worth import Worth, any_theme, differs_loss, weighed
from axletree.evening.offered.candidates import THEME_OF_KIND
from axletree.kit.kit import Kit
from axletree.sky.arrays import Mask


def varied_again(kit: Kit, candidates: tuple[Candidate, ...], opens: Mask) -> tuple[Candidate, ...]:
    """The candidates (n,), with what they lose for better ones of their theme counted over those
    that `opens` (n,) for a stop: a cluster that the mount doesn't reach makes no other one dull."""
    if not candidates or not any_theme(kit):
        return candidates
    themes = np.array([THEME_OF_KIND.get(c.thing.kind, "anything") for c in candidates])
    parts = {name: np.array([getattr(c.worth, name) for c in candidates]) for name in _PARTS}
    alone = Worth(**{**parts, "differs": np.full(len(candidates), 100.0)})
    free = opens & ~np.array([c.must for c in candidates])
    lost = differs_loss(np.where(free, weighed(kit, alone), -np.inf), themes.astype(object))
    worth = replace(alone, differs=alone.differs - lost)
    return tuple(
        replace(c, value=float(value), worth=replace(c.worth, differs=float(differs)))
        for c, value, differs in zip(candidates, weighed(kit, worth), worth.differs, strict=True)
    )


_PARTS = tuple(Worth.__dataclass_fields__)
