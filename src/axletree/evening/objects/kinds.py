"""Which kinds of objects do people's words mean?

Public: ``kinds_named``, ``candidate_kinds``, ``KINDS``.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.offered.candidates import Candidates
from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Texts
from axletree.sky.catalogue.deep_sky import deep_sky

KINDS = {
    "open cluster": ("open cluster",),
    "globular cluster": ("globular cluster",),
    "cluster": ("open cluster", "globular cluster", "cluster with nebula", "star cloud"),
    "nebula": (
        "nebula", "planetary nebula", "emission nebula", "reflection nebula", "supernova remnant",
        "cluster with nebula",
    ),
    "planetary nebula": ("planetary nebula",),
    "emission nebula": ("emission nebula",),
    "reflection nebula": ("reflection nebula",),
    "supernova remnant": ("supernova remnant",),
    "galaxy": ("galaxy", "galaxy pair", "galaxy triplet", "galaxy group"),
    "double star": ("double star",),
    "star": ("star",),
    "planet": ("planet",),
    "moon": ("moon",),
    "comet": ("comet",),
    "minor planet": ("minor planet",),
}  # fmt: skip
_SHORT = {"globular": "globular cluster", "double": "double star", "nebulae": "nebula",
          "galaxies": "galaxy", "remnant": "supernova remnant",
          "asteroid": "minor planet"}  # fmt: skip


def kinds_named(words: Sequence[str]) -> frozenset[str]:
    """The catalogue's kinds that people's words mean: 'galaxies', 'open clusters', 'doubles'."""
    found: set[str] = set()
    for word in words:
        plain = " ".join(word.lower().split())
        forms = (plain, _SHORT.get(plain, ""), plain.removesuffix("s"),
                 _SHORT.get(plain.removesuffix("s"), ""), plain.replace("nebulae", "nebula"),
                 plain.replace("galaxies", "galaxy"))  # fmt: skip
        known = next((form for form in forms if form in KINDS), None)
        if known is None:
            raise AxletreeError(f"no kind '{word}'; there are: {', '.join(KINDS)}")
        found.update(KINDS[known])
    return frozenset(found)


def candidate_kinds(candidates: Candidates) -> Texts:
    """The kind of each row in the catalogue's words, without building the objects."""
    out = np.empty(len(candidates), dtype=object)
    out[:] = "star"
    body = candidates.source == 0
    out[body] = ["moon" if name == "moon" else "planet" for name in np.array(candidates.ids)[body]]
    deep = candidates.source == 1
    out[deep] = deep_sky().kind[candidates.row[deep]]
    out[candidates.source == 2] = "double star"
    mine = np.flatnonzero(candidates.source == 4)
    for k in mine:
        out[k] = candidates.own[int(candidates.row[k])].kind
    return out
