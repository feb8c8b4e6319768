"""What has the person asked for by name: what must be seen, and what is left out?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.evening.offered.candidates import Candidates
from axletree.evening.offered.catalogues import FAINTEST_MAG, all_candidates
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.catalogue.names import fold
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.orbits.names import spoken

# Where people write what they have promised.
PROMISED = "--promise"


@dataclass(frozen=True)
class Requested:
    """Everything to choose from, the rows that must be seen, and the ids that are excluded."""

    candidates: Candidates
    must_rows: frozenset[int]
    excluded: frozenset[str]


def requested_of(
    kit: Kit,
    own: Sequence[SkyObject] = (),
    faintest_mag: float = FAINTEST_MAG,
    promised: Sequence[str] = (),
) -> Requested:
    """The candidates with the kit's own wishes in them; a name that nobody knows is refused.

    `promised` are names that must be seen besides the kit's.
    """
    candidates = all_candidates(own, faintest_mag)
    must = [_row_of(candidates, text, "habits.must_see") for text in kit.habits.must_see]
    must += [_row_of(candidates, text, PROMISED) for text in promised]
    strangers = [m for m in must if isinstance(m, SkyObject)]
    if strangers:
        candidates = all_candidates([*own, *strangers], faintest_mag)
    rows = [m if isinstance(m, int) else _index(candidates, m.catalogue_id) for m in must]
    excluded = frozenset(_excluded_id(text, own) for text in kit.habits.exclude)
    return Requested(candidates, frozenset(r for r in rows if r is not None), excluded)


def _row_of(candidates: Candidates, text: str, where: str) -> int | SkyObject:
    """The row of a named object, or the object itself when the candidates does not hold it."""
    try:
        thing = find(text)
    except AxletreeError as error:
        if (mine := _own_named(candidates.own, text)) is not None:
            return candidates.ids.index(mine.catalogue_id or f"own:{mine.name}")
        raise AxletreeError(f"{where}: {error}") from None
    if thing.kind == "sun":
        raise AxletreeError(f"{where}: the Sun is no stop; no unfiltered tube goes near it")
    row = _index(candidates, thing.catalogue_id)
    if row is None and thing.name in candidates.names:
        row = candidates.names.index(thing.name)
    return thing if row is None else row


def _index(candidates: Candidates, catalogue_id: str) -> int | None:
    return candidates.ids.index(catalogue_id) if catalogue_id in candidates.ids else None


def _own_named(own: Sequence[SkyObject], text: str) -> SkyObject | None:
    """The object of one's own of that name, or that people call so."""
    wanted = fold(text)
    full = [thing for thing in own if fold(thing.name) == wanted]
    short = [thing for thing in own if thing.orbit and wanted in map(fold, spoken(thing.name))]
    return next(iter([*full, *short]), None)


def _excluded_id(text: str, own: Sequence[SkyObject]) -> str:
    try:
        return find(text).catalogue_id
    except AxletreeError as error:
        if (mine := _own_named(own, text)) is not None:
            return mine.catalogue_id
        raise AxletreeError(f"habits.exclude: {error}") from None
