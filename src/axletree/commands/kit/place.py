"""Find a place by name, without a network.

Lists matches with country, coordinates, elevation and time zone. Coordinates and geo: URIs
(RFC 5870) are read too.
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer

EXAMPLE = "axletree place Évora"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("name", nargs="+", help="a name, coordinates, or a geo: URI")
    parser.add_argument("--limit", type=int, default=10, help="how many matches (10)")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """The matches."""
    from axletree.stages.kit.place import PlaceRequest, place
    from axletree.tell.place.data import place_data
    from axletree.tell.place.text import place_text

    found = place(PlaceRequest(" ".join(options.name), options.limit))
    return Answer(place_text(found), place_data(found))
