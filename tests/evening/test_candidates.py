"""What the candidates hold, and which of them count as first looks."""

from __future__ import annotations

import pytest

from axletree.evening.objects.candidates import BODIES, FIRST_LOOKS, SHOWPIECE, all_candidates

CANDIDATES = all_candidates()


def test_every_first_look_is_an_object_of_the_candidates() -> None:
    """A name that the catalogues write otherwise would never be preferred, without a word."""
    known = {*CANDIDATES.names, *CANDIDATES.ids, *BODIES}
    assert sorted(FIRST_LOOKS - known) == []


# Showpieces of the southern sky and the northern winter: common practice, no source.
@pytest.mark.parametrize(
    "name",
    ["NGC 104", "NGC 5139", "NGC 3372", "NGC 4755", "NGC 3532", "NGC 869", "NGC 7662",
     "ε² Lyrae", "γ² Velorum"],
)  # fmt: skip
def test_showpieces_without_a_messier_number_count_as_such(name: str) -> None:
    fame = [f for n, f in zip(CANDIDATES.names, CANDIDATES.fame, strict=True) if n == name]
    assert max(fame) == SHOWPIECE
