"""What do people mean who say an object's name as they say it at the telescope?

Public: ``meant_by(text)``.  'the Moon', "Saturn's rings", 'Southern Cross', 'LMC', 'Whirlpool'.
The list is ours: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from axletree.sky.catalogue.names import fold

# Folded: what is said, and the name under which a catalogue has it.
_SAID = {
    "saturnsrings": "Saturn", "ringsofsaturn": "Saturn", "jupitersmoons": "Jupiter",
    "moonsofjupiter": "Jupiter", "galileanmoons": "Jupiter", "redplanet": "Mars",
    "eveningstar": "Venus", "morningstar": "Venus", "luna": "Moon", "craters": "Moon",
    "lmc": "Large Magellanic Cloud", "smc": "Small Magellanic Cloud",
    "southerncross": "Acrux", "crux": "Acrux", "coalsack": "Coalsack",
    "bigdipper": "Mizar", "plough": "Mizar", "mizarandalcor": "Mizar", "horseandrider": "Mizar",
    "orionsbelt": "Alnilam", "orionssword": "M42", "orion": "M42", "andromeda": "M31",
    "m31galaxy": "M31", "subaru": "M45", "doubledouble": "ε¹ Lyrae",
    "veil": "NGC 6992", "veilnebula": "NGC 6992", "etacar": "NGC 3372", "carina": "NGC 3372",
    "etacarinae": "NGC 3372", "etacarina": "NGC 3372", "alphacen": "Rigil Kentaurus",
    "tarantula": "NGC 2070", "hyades": "Mel 25", "doublecluster": "Double Cluster",
    "herculescluster": "M13", "swan": "M17", "eskimo": "NGC 2392", "helix": "NGC 7293",
    "milkyway": "M24", "summertriangle": "Vega", "teapot": "M8", "barnards": "Barnard's Star",
    "ptolemyscluster": "M7", "butterfly": "M6", "wildduck": "M11", "crab": "M1",
}  # fmt: skip
# What is left out when people speak: 'Whirlpool', 'Lagoon', 'Beehive'.
_LEFT_OUT = ("Nebula", "Galaxy", "Cluster", "Planetary")


def meant_by(text: str) -> Iterator[str]:
    """The names to look under, most likely first: as said, without 'the', in full."""
    said = text.strip()
    bare = said
    for article in ("the ", "The ", "THE "):
        bare = bare.removeprefix(article)
    known = _SAID.get(fold(bare))
    if known is not None:
        yield known
    yield said  # as it stands first: 'The Eyes' has its article in the name
    said = bare
    yield said
    if len(fold(said)) > 3:
        for word in _LEFT_OUT:
            yield f"{said} {word}"
