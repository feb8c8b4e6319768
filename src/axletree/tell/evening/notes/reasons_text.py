"""How are many objects without a stop told, each reason once?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.tell.evening.document import GivenUpFacts
from axletree.tell.shared.words import one_and_another

# So many names stand on a sheet for one reason; the JSON has them all.
MOST_NAMES = 12


def reason_groups(
    given_up: Sequence[GivenUpFacts], most: int = MOST_NAMES
) -> list[tuple[str, str]]:
    """(names in a row, at most so many; reason), a reason once, by the first object of each."""
    groups: dict[str, list[str]] = {}
    for item in given_up:
        groups.setdefault(item.reason, []).append(item.name)
    return [(_names(names, most), reason) for reason, names in groups.items()]


def _names(names: list[str], most: int) -> str:
    more = len(names) - most
    if more <= 0:
        return one_and_another(names)
    return f"{', '.join(names[:most])} and {more} more"
