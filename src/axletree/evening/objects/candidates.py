"""Which objects are there to choose from? Arrays of everything, and the objects behind the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from axletree.evening.seeing.line_filters import line_parts
from axletree.evening.seeing.trusted import trusted_magnitude
from axletree.evening.seeing.visibility import (
    BODY,
    EXTENDED,
    LIT,
    PAIR,
    POINT,
    Looks,
    sort_of_kinds,
)
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask, Texts
from axletree.sky.catalogue import objects as catalogue
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.doubles import doubles
from axletree.sky.catalogue.object_light import light_of
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.brightness import COMA_HALF_PART, COMA_INDEX
from axletree.sky.orbits.orbit import Orbit

BODIES = ("moon", "mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
LEFT_OUT_KINDS = ("star", "double star", "other", "nova", "dark nebula")
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
# What a first look through any telescope should be: common practice, no source.
FIRST_LOOKS = frozenset(
    ("moon", "venus", "mars", "jupiter", "saturn", "M31", "M42", "M45", "M13", "M22", "M57", "M27",
     "M44", "M7", "M8", "M6", "M11", "M35", "M81", "M15", "M2", "M5", "M3", "M4", "M17", "M51",
     "M104", "M92", "M41", "M46", "M37", "M82", "Double Cluster", "NGC 5139", "NGC 104",
     "NGC 3372", "NGC 4755", "NGC 2070", "NGC 7662", "NGC 3242", "NGC 3532", "Albireo", "Mizar",
     "Almach", "Castor", "Algieba", "Cor Caroli", "Acrux", "Rigil Kentaurus", "β Monocerotis",
     "γ² Velorum", "ε² Lyrae", "Izar", "ι Cancri")
)  # fmt: skip
MOON_ARCMIN = 31.0  # for the choice of an eyepiece only
# What people speak of for years: common practice, no source.
SPLENDID_LOOKS = frozenset(
    ("M31", "M42", "M45", "M13", "M22", "M57", "M44", "M7", "M8", "M11", "Double Cluster",
     "NGC 5139", "NGC 104", "NGC 3372", "NGC 4755", "NGC 2070", "Albireo", "Acrux",
     "Rigil Kentaurus")
)  # fmt: skip
SPLENDID, SHOWPIECE, OWN, FAMILIAR, LISTED = 100.0, 80.0, 60.0, 48.0, 20.0
FAINTEST_MAG = 13.0


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
        looks = Looks(**{k: v[which] for k, v in vars(self.looks).items()})
        return Candidates(
            tuple(self.names[i] for i in which), tuple(self.ids[i] for i in which),
            self.themes[which], self.ra_deg[which], self.dec_deg[which], looks,
            self.fame[which], self.source[which], self.row[which], self.own,
        )  # fmt: skip


def all_candidates(own: Sequence[SkyObject] = (), faintest_mag: float = FAINTEST_MAG) -> Candidates:
    """Moon and planets, deep sky to `faintest_mag`, all double and coloured stars, one's own."""
    deep = _deep_sky(faintest_mag, np.arange(len(deep_sky())))
    return _joined([_bodies(), deep, _pairs(), _coloured(), own_candidates(own)], own)


def candidates_like(targets: Sequence[SkyObject]) -> Candidates:
    """Of all there are without one's own, those that some objects may be, by id or name."""
    called = {t.catalogue_id for t in targets} | {t.name for t in targets}
    table = deep_sky()
    both = zip(table.catalogue_id.tolist(), table.messier.tolist(), strict=True)
    rows = np.flatnonzero([one in called or messier in called for one, messier in both])
    return _joined([_bodies(), _deep_sky(np.inf, rows), _pairs(), _coloured()])


def _joined(parts: Sequence[Candidates], own: Sequence[SkyObject] = ()) -> Candidates:
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


def _looks(sort: NDArray[np.int8], magnitude: Floats, **known: Floats) -> Looks:
    """The looks of n objects; nan for every field that isn't named."""
    columns = dict.fromkeys(
        [f.name for f in fields(Looks) if f.name not in ("sort", "magnitude")],
        np.full(len(sort), np.nan),
    )
    return Looks(sort, magnitude, **{**columns, **known})


def _source(number: int, n: int) -> NDArray[np.int8]:
    return np.full(n, number, dtype=np.int8)


def _themes(themes: Sequence[str]) -> Texts:
    return np.array(themes, dtype=object)


def _bodies() -> Candidates:
    fame = {"moon": 100.0, "saturn": 100.0, "jupiter": 100.0, "venus": 70.0, "mars": 70.0,
            "mercury": 40.0, "uranus": 30.0, "neptune": 26.0}  # fmt: skip
    n = len(BODIES)
    nothing = np.full(n, np.nan)
    return Candidates(
        names=tuple(b.capitalize() for b in BODIES),
        ids=BODIES,
        themes=_themes(["moon and planets"] * n),
        ra_deg=nothing,
        dec_deg=nothing,
        looks=_looks(
            np.full(n, BODY, dtype=np.int8),
            nothing,
            major_arcmin=np.array([MOON_ARCMIN if b == "moon" else np.nan for b in BODIES]),
        ),
        fame=np.array([fame[b] for b in BODIES]),
        source=_source(0, n),
        row=np.arange(n),
    )


def catalogue_magnitudes() -> Floats:
    """V of every row of the deep-sky catalogue as far as it can be trusted, nan elsewhere."""
    t = deep_sky()
    minor = np.where(np.isfinite(t.size_minor_arcmin), t.size_minor_arcmin, t.size_major_arcmin)
    area = np.pi / 4.0 * t.size_major_arcmin * minor
    trusted = trusted_magnitude(
        t.kind, t.magnitude_v, t.magnitude_v_guess, t.magnitude_b,
        t.surface_brightness_mag_arcsec2, area,
    )  # fmt: skip
    mended = light_of([str(c) for c in t.catalogue_id]).magnitude_v
    return np.where(np.isfinite(mended), mended, trusted)


def _deep_sky(faintest_mag: float, asked: Indices) -> Candidates:
    table = deep_sky().take(asked)
    magnitude = catalogue_magnitudes()[asked]
    is_messier = table.messier != ""
    wanted = ((magnitude <= faintest_mag) & ~np.isin(table.kind, LEFT_OUT_KINDS)) | is_messier
    # Sizes of galaxies from other lists are not those of the light that V adds up.
    of_main_lists = [str(c)[:2] in ("NG", "IC") for c in table.catalogue_id]
    listed = np.array(of_main_lists, dtype=np.bool_)  # of no row, too
    wanted &= listed | is_messier | ~np.char.startswith(table.kind.astype(str), "galaxy")
    rows = np.flatnonzero(wanted)
    t = table.take(rows)
    named = t.names != ""
    fame = np.where(named | is_messier[rows], FAMILIAR + 6.0 * (named & is_messier[rows]), LISTED)
    kinds = [str(k) for k in t.kind]
    sort = sort_of_kinds(kinds)
    # A bright middle is assumed only of nebulae whose light somebody judged by eye or in V.
    sort = np.where((sort == LIT) & np.isnan(t.magnitude_v), EXTENDED, sort)
    names = [str(m) or str(c) for m, c in zip(t.messier, t.catalogue_id, strict=True)]
    ids = [str(c) for c in t.catalogue_id]
    light = light_of(ids)
    oxygen, hydrogen = line_parts(t.kind, light.in_lines)
    fame = np.where(_first(names, ids), SHOWPIECE, fame)
    fame = np.where(_first(names, ids, SPLENDID_LOOKS), SPLENDID, fame)
    return Candidates(
        names=tuple(names),
        ids=tuple(ids),
        themes=_themes([THEME_OF_KIND.get(k, "anything") for k in kinds]),
        ra_deg=t.ra_deg,
        dec_deg=t.dec_deg,
        looks=_looks(
            sort,
            magnitude[rows],
            major_arcmin=t.size_major_arcmin,
            minor_arcmin=t.size_minor_arcmin,
            half_light_arcmin=light.half_light_arcmin,
            axis_ratio=light.axis_ratio,
            profile_index=light.profile_index,
            tenth_star=light.tenth_star_v,
            oxygen=oxygen,
            hydrogen=hydrogen,
        ),
        fame=fame,
        source=_source(1, len(rows)),
        row=asked[rows],
    )


def _pairs() -> Candidates:
    t = doubles()
    n = len(t)
    noted = np.array([bool(note) for note in t.note])
    names = [str(v) for v in t.name]
    # As the catalogue numbers them, so that what was excluded or shown before is known again.
    ids = [f"HIP {hip}" if hip else name for hip, name in zip(t.hip, names, strict=True)]
    fame = np.where(_first(names, ids), SHOWPIECE, np.where(noted, FAMILIAR, LISTED))
    fame = np.where(_first(names, ids, SPLENDID_LOOKS), SPLENDID, fame)
    return Candidates(
        names=tuple(names),
        ids=tuple(ids),
        themes=_themes(["doubles"] * n),
        ra_deg=t.ra_deg,
        dec_deg=t.dec_deg,
        looks=_looks(
            np.full(n, PAIR, dtype=np.int8),
            t.magnitude_v,
            separation_arcsec=t.separation_arcsec,
            companion=t.companion_magnitude_v,
        ),
        fame=fame,
        source=_source(2, n),
        row=np.arange(n),
    )


def _coloured() -> Candidates:
    stars = catalogue.coloured_stars()
    n = len(stars)
    return Candidates(
        names=tuple(s.name for s in stars),
        ids=tuple(s.catalogue_id for s in stars),
        themes=_themes(["colours"] * n),
        ra_deg=np.array([s.ra_deg or 0.0 for s in stars]),
        dec_deg=np.array([s.dec_deg or 0.0 for s in stars]),
        looks=_looks(
            np.full(n, POINT, dtype=np.int8),
            np.array([np.nan if s.magnitude_v is None else s.magnitude_v for s in stars]),
        ),
        fame=np.array([FAMILIAR if (s.colour_bv or 0) > 2.0 else LISTED for s in stars]),
        source=_source(3, n),
        row=np.arange(n),
    )


def _first(names: Sequence[str], ids: Sequence[str], looks: frozenset[str] = FIRST_LOOKS) -> Mask:
    return np.array([n in looks or i in looks for n, i in zip(names, ids, strict=True)])


def own_candidates(own: Sequence[SkyObject]) -> Candidates:
    """The person's own objects."""
    n = len(own)

    def column(name: str) -> Floats:
        values = [getattr(o, name) for o in own]
        return np.array([np.nan if v is None else v for v in values], dtype=np.float64)

    major = column("size_major_arcmin")
    pair = np.isfinite(column("separation_arcsec"))
    sort = np.where(pair, PAIR, np.where(np.isfinite(major), EXTENDED, POINT)).astype(np.int8)
    coma = np.array([o.orbit is not None and o.orbit.comet for o in own], dtype=np.bool_)
    return Candidates(
        names=tuple(o.name for o in own),
        ids=tuple(o.catalogue_id or f"own:{o.name}" for o in own),
        themes=_themes([THEME_OF_KIND.get(o.kind, "anything") for o in own]),
        ra_deg=column("ra_deg"),
        dec_deg=column("dec_deg"),
        looks=_looks(
            sort,
            column("magnitude_v"),
            major_arcmin=major,
            minor_arcmin=column("size_minor_arcmin"),
            separation_arcsec=column("separation_arcsec"),
            companion=column("companion_magnitude_v"),
            half_light_arcmin=np.where(coma, major * COMA_HALF_PART, np.nan),
            axis_ratio=np.where(coma, 1.0, np.nan),
            profile_index=np.where(coma, COMA_INDEX, np.nan),
        ),
        fame=np.array([LISTED if o.kind == "minor planet" else OWN for o in own]),
        source=_source(4, n),
        row=np.arange(n),
        own=tuple(own),
    )
