"""What was shown lately, so that it counts less, or why does nobody know?"""

from __future__ import annotations

from datetime import date

from axletree.kit.errors import AxletreeError, KeptAside
from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class SeenLately:
    """Catalogue ids of what was shown from `since` to before the evening, by a record.

    `kept_aside`: the record was damaged and begun anew. `refusal`: why it could not be read;
    nothing is known then.
    """

    since: date
    keys: frozenset[str] = frozenset()
    kept_aside: KeptAside | None = None
    refusal: AxletreeError | None = None
