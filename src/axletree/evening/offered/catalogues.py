"""Which objects to choose from do the catalogues hold?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from functools import lru_cache

import numpy as np

from axletree.evening.offered.candidates import (
    THEME_OF_KIND,
    Candidates,
    joined,
    looks_of_kind,
    source_of,
    themes_of,
)
from axletree.evening.offered.own import own_candidates
from axletree.evening.offered.well_known import (
    FAMILIAR,
    FIRST_LOOKS,
    LISTED,
    SHOWPIECE,
    SPLENDID,
    SPLENDID_LOOKS,
)
from axletree.evening.seeing.line_filters import line_parts
from axletree.evening.seeing.trusted import trusted_magnitude
from axletree.evening.seeing.visibility import BODY, EXTENDED, LIT, PAIR, POINT, sort_of_kinds
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.catalogue import objects as catalogue
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.doubles import doubles
from axletree.sky.catalogue.object_light import light_of
from axletree.sky.catalogue.objects import SkyObject

BODIES = ("moon", "mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
LEFT_OUT_KINDS = ("star", "double star", "other", "nova", "dark nebula")
MOON_ARCMIN = 31.0  # for the choice of an eyepiece only
FAINTEST_MAG = 13.0


def all_candidates(own: Sequence[SkyObject] = (), faintest_mag: float = FAINTEST_MAG) -> Candidates:
    """Moon and planets, deep sky to `faintest_mag`, all double and coloured stars, one's own."""
    known = _catalogued(faintest_mag)
    return joined([known, own_candidates(own)], own) if own else known


@lru_cache(maxsize=4)
def _catalogued(faintest_mag: float) -> Candidates:
    """The same for everybody; not to be written into."""
    deep = _deep_sky(faintest_mag, np.arange(len(deep_sky())))
    known = joined([_bodies(), deep, _pairs(), _coloured()])
    looks = [getattr(known.looks, f.name) for f in fields(known.looks)]
    columns = (known.themes, known.ra_deg, known.dec_deg, known.fame, known.source, known.row)
    for column in (*columns, *looks):
        column.flags.writeable = False
    return known


def candidates_like(targets: Sequence[SkyObject]) -> Candidates:
    """Of all there are without one's own, those that some objects may be, by id or name."""
    called = {t.catalogue_id for t in targets} | {t.name for t in targets}
    table = deep_sky()
    both = zip(table.catalogue_id.tolist(), table.messier.tolist(), strict=True)
    rows = np.flatnonzero([one in called or messier in called for one, messier in both])
    return joined([_bodies(), _deep_sky(np.inf, rows), _pairs(), _coloured()])


def _bodies() -> Candidates:
    fame = {"moon": 100.0, "saturn": 100.0, "jupiter": 100.0, "venus": 70.0, "mars": 70.0,
            "mercury": 40.0, "uranus": 30.0, "neptune": 26.0}  # fmt: skip
    n = len(BODIES)
    nothing = np.full(n, np.nan)
    return Candidates(
        names=tuple(b.capitalize() for b in BODIES),
        ids=BODIES,
        themes=themes_of(["moon and planets"] * n),
        ra_deg=nothing,
        dec_deg=nothing,
        looks=looks_of_kind(
            np.full(n, BODY, dtype=np.int8),
            nothing,
            major_arcmin=np.array([MOON_ARCMIN if b == "moon" else np.nan for b in BODIES]),
        ),
        fame=np.array([fame[b] for b in BODIES]),
        source=source_of(0, n),
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
        themes=themes_of([THEME_OF_KIND.get(k, "anything") for k in kinds]),
        ra_deg=t.ra_deg,
        dec_deg=t.dec_deg,
        looks=looks_of_kind(
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
        source=source_of(1, len(rows)),
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
        themes=themes_of(["doubles"] * n),
        ra_deg=t.ra_deg,
        dec_deg=t.dec_deg,
        looks=looks_of_kind(
            np.full(n, PAIR, dtype=np.int8),
            t.magnitude_v,
            separation_arcsec=t.separation_arcsec,
            companion=t.companion_magnitude_v,
        ),
        fame=fame,
        source=source_of(2, n),
        row=np.arange(n),
    )


def _coloured() -> Candidates:
    stars = catalogue.coloured_stars()
    n = len(stars)
    return Candidates(
        names=tuple(s.name for s in stars),
        ids=tuple(s.catalogue_id for s in stars),
        themes=themes_of(["colours"] * n),
        ra_deg=np.array([s.ra_deg or 0.0 for s in stars]),
        dec_deg=np.array([s.dec_deg or 0.0 for s in stars]),
        looks=looks_of_kind(
            np.full(n, POINT, dtype=np.int8),
            np.array([np.nan if s.magnitude_v is None else s.magnitude_v for s in stars]),
        ),
        fame=np.array([FAMILIAR if (s.colour_bv or 0) > 2.0 else LISTED for s in stars]),
        source=source_of(3, n),
        row=np.arange(n),
    )


def _first(names: Sequence[str], ids: Sequence[str], looks: frozenset[str] = FIRST_LOOKS) -> Mask:
    return np.array([n in looks or i in looks for n, i in zip(names, ids, strict=True)])
