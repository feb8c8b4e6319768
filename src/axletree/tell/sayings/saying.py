"""Of what is a saying made?"""

from __future__ import annotations

from typing import NamedTuple


class Saying(NamedTuple):
    """`what` it is, how far (light years, None where that changes), and one `fact`."""

    what: str
    light_years: float | None
    fact: str
