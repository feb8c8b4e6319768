"""Which two sentences may be said of an object?"""

from __future__ import annotations

from axletree.tell.sayings.bodies_text import BODIES
from axletree.tell.sayings.galaxies_text import GALAXIES
from axletree.tell.sayings.globulars_text import GLOBULARS
from axletree.tell.sayings.nebulae_text import NEBULAE
from axletree.tell.sayings.open_clusters_text import OPEN_CLUSTERS
from axletree.tell.sayings.pairs_text import PAIRS
from axletree.tell.sayings.saying import Saying
from axletree.tell.sayings.stars_text import STARS

# By the object's name as the catalogue has it.
SAYINGS: dict[str, Saying] = {
    **BODIES, **OPEN_CLUSTERS, **GLOBULARS, **GALAXIES, **NEBULAE, **PAIRS, **STARS,
}  # fmt: skip


def sayings_of(name: str) -> tuple[str, ...]:
    """What it is and how far, then one fact; () where nothing stands here of it."""
    saying = SAYINGS.get(name)
    if saying is None:
        return ()
    if saying.light_years is None:
        return f"{saying.what}.", saying.fact
    return f"{saying.what}, {distance_words(saying.light_years)} away.", saying.fact


def light_years_of(name: str) -> float | None:
    """How far it is; None where that changes, is poorly known or not told here."""
    saying = SAYINGS.get(name)
    return None if saying is None else saying.light_years


def distance_words(light_years: float) -> str:
    """'about 430 light years', 'about 2.5 million light years'."""
    if light_years >= 1e6:
        return f"about {light_years / 1e6:g} million light years"
    if light_years < 10.0:
        return f"about {light_years:.1f} light years"
    return f"about {light_years:,.0f} light years"
