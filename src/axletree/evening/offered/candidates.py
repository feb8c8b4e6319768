"""Which objects are there to choose from? Arrays of n of them, and the objects behind the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from axletree.evening.seeing.visibility import Looks
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Texts
from axletree.sky.catalogue import objects as catalogue
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.orbit import Orbit

THEME_OF_KIND = {
    "open cluster": "clusters",
    "globular cluster": "clusters",
    "cluster with nebula": "clusters",
    "star cloud": "clusters",
    "galaxy": "galaxies",
    "galaxy pair": "galaxies",
    "galaxy triplet": "galaxies",
    "galaxy group": "galaxies",
    "planetary nebula": "nebulae",
    "emission nebula": "nebulae",
    "reflection nebula": "nebulae",
    "nebula": "nebulae",
    "supernova remnant": "nebulae",
    "double star": "doubles",
    "star": "colours",
    "moon": "moon and planets",
    "planet": "moon and planets",
}


@dataclass(frozen=True)
class Candidates:
    """n objects to choose from; Sun, Moon and planets first, then fixed objects in any order.

    Catalogue places are J2000 degrees; nan for the bodies. `things` builds an object from its row
    only when it is asked for.
    """

    names: tuple[str, ...]
    ids: tuple[str, ...]
    themes: Texts
    ra_deg: Floats
    dec_deg: Floats
    looks: Looks
    fame: Floats
    source: NDArray[np.int8]  # 0 body, 1 deep sky, 2 pair, 3 coloured star, 4 own
    row: Indices
    own: tuple[SkyObject, ...] = ()

    def __len__(self) -> int:
        return len(self.names)

    def object_at(self, at: int) -> SkyObject:
        """The object of one row."""
        row = int(self.row[at])
        if self.source[at] == 1:
            return catalogue.deep_sky_object(row)
        if self.source[at] == 2:
            return catalogue.double_object(row)
        if self.source[at] == 4:
            return self.own[row]
        if self.source[at] == 3:
            return catalogue.coloured_stars()[row]
        return catalogue.find(self.names[at])

    def orbiting(self) -> dict[int, Orbit]:
        """The orbits of those that go by elements, by their rows."""
        own = ((int(k), self.own[int(self.row[k])]) for k in np.flatnonzero(self.source == 4))
        return {k: thing.orbit for k, thing in own if thing.orbit is not None}

    def take(self, which: Indices) -> Candidates:
        """The objects at these rows."""
        return Candidates(
            tuple(self.names[i] for i in which), tuple(self.ids[i] for i in which),
            self.themes[which], self.ra_deg[which], self.dec_deg[which],
            self.looks.take(which),
            self.fame[which], self.source[which], self.row[which], self.own,
        )  # fmt: skip


def joined(parts: Sequence[Candidates], own: Sequence[SkyObject] = ()) -> Candidates:
    return Candidates(
        names=tuple(n for p in parts for n in p.names),
        ids=tuple(i for p in parts for i in p.ids),
        themes=np.concatenate([p.themes for p in parts]),
        ra_deg=np.concatenate([p.ra_deg for p in parts]),
        dec_deg=np.concatenate([p.dec_deg for p in parts]),
        looks=Looks(
            *(np.concatenate([getattr(p.looks, f.name) for p in parts]) for f in fields(Looks))
        ),
        fame=np.concatenate([p.fame for p in parts]),
        source=np.concatenate([p.source for p in parts]),
        row=np.concatenate([p.row for p in parts]),
        own=tuple(own),
    )


def looks_of_kind(sort: NDArray[np.int8], magnitude: Floats, **known: Floats) -> Looks:
    """The looks of n objects; nan for every field that isn't named."""
    columns = dict.fromkeys(
        [f.name for f in fields(Looks) if f.name not in ("sort", "magnitude")],
        np.full(len(sort), np.nan),
    )
    return Looks(sort, magnitude, **{**columns, **known})


def source_of(number: int, n: int) -> NDArray[np.int8]:
    return np.full(n, number, dtype=np.int8)


def themes_of(themes: Sequence[str]) -> Texts:
    return np.array(themes, dtype=object)
