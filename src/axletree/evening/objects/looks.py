"""What is known of the looks of some objects: how bright, how large, of which kind?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.offered.catalogues import candidates_like
from axletree.evening.offered.own import own_candidates
from axletree.evening.seeing.visibility import Looks
from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.objects import SkyObject


def looks_of(target: SkyObject) -> Looks:
    """What is known of one object's looks: the candidates' row for it, or its own figures."""
    return looks_of_each([target])[0]


def looks_of_each(targets: Sequence[SkyObject]) -> list[Looks]:
    """The same of several, a row each. Refuses what can't be shown, in one sentence."""
    lists = [candidates_like(targets), own_candidates(tuple(targets))]
    by_id = [{name: row for row, name in reversed([*enumerate(some.ids)])} for some in lists]
    by_name = [{name: row for row, name in reversed([*enumerate(some.names)])} for some in lists]
    found = []
    for target in targets:
        for some, ids, names in zip(lists, by_id, by_name, strict=True):
            row = ids.get(target.catalogue_id, names.get(target.name))
            if row is not None:
                found.append(some.take(np.array([row])).looks)
                break
        else:
            raise AxletreeError(f"'{target.name}' is no object that can be shown")
    return found
