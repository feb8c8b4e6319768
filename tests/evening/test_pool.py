"""What the pool of objects holds, and which of them count as first looks."""

from __future__ import annotations

import pytest

from axletree.evening.objects.candidates import BODIES, FIRST_LOOKS, SHOWPIECE, full_pool

POOL = full_pool()


def test_every_first_look_is_an_object_of_the_pool() -> None:
    """A name that the catalogues write otherwise would never be preferred, without a word."""
    known = {*POOL.names, *POOL.ids, *BODIES}
    assert sorted(FIRST_LOOKS - known) == []


# Showpieces of the southern sky and the northern winter: common practice, no source.
@pytest.mark.parametrize(
    "name",
    ["NGC 104", "NGC 5139", "NGC 3372", "NGC 4755", "NGC 3532", "NGC 869", "NGC 7662",
     "ε² Lyrae", "γ² Velorum"],
)  # fmt: skip
def test_showpieces_without_a_messier_number_count_as_such(name: str) -> None:
    fame = [f for n, f in zip(POOL.names, POOL.fame, strict=True) if n == name]
    assert max(fame) == SHOWPIECE
