"""In which words are places told?"""

from __future__ import annotations

from axletree.kit.place.find import Place
from axletree.stages.kit.place import Located, PlaceAnswer


def place_text(answer: PlaceAnswer) -> str:
    """The one point, or two lines each place."""
    if answer.point is not None:
        return _point_words(answer.point)
    return "\n".join(map(_place_words, answer.places))


def _point_words(point: Located) -> str:
    height = f", {point.elevation_m:.0f} m" if point.elevation_m is not None else ""
    return f"{point.latitude_deg:.5f}, {point.longitude_deg:.5f}{height}, {point.time_zone}"


def _place_words(place: Place) -> str:
    height = f"{place.elevation_m:.0f} m" if place.elevation_m is not None else "? m"
    return (
        f"{place.name}, {place.country}\n    {place.latitude_deg:.4f}, "
        f"{place.longitude_deg:.4f}   {height:>6}   {place.time_zone}"
    )
