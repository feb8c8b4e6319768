"""Why can pictures not be read as a run? Each refusal is one sentence with what would be right."""

from __future__ import annotations

from collections.abc import Sequence

from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Floats


def another_size(
    first: str, size: tuple[int, ...], other: str, other_size: tuple[int, ...]
) -> AxletreeError:
    """Pictures of two sizes."""
    return AxletreeError(
        f"{other}: {other_size[0]} x {other_size[1]} pixels, but {first} has {size[0]} x "
        f"{size[1]}; all pictures must come from one camera, uncropped"
    )


def another_zoom(names: Sequence[str], focal_px: Floats) -> AxletreeError:
    """Pictures of two focal lengths."""
    low, high = int(focal_px.argmin()), int(focal_px.argmax())
    ratio = focal_px[high] / focal_px[low]
    return AxletreeError(
        f"{names[high]} was taken through a lens {100 * (ratio - 1):.0f} % longer than "
        f"{names[low]}: keep one zoom and focus for all pictures"
    )


def too_few_spots(name: str, count: int) -> AxletreeError:
    """No stars."""
    seen = "nothing that looks like a star" if not count else f"only {count} spots like stars"
    return AxletreeError(
        f"{name}: {seen} in it; is the sky clear, the cap off, the focus right, the exposure "
        "long enough?"
    )


def trails_too_long(name: str, length: float, most: float) -> AxletreeError:
    """Stars drawn out."""
    return AxletreeError(
        f"{name}: the stars are drawn out to {length:.0f} pixels, more than {most:.0f}; expose "
        "for a shorter time and touch nothing meanwhile"
    )


def not_turned(first: str, last: str) -> AxletreeError:
    """One attitude only."""
    return AxletreeError(
        f"{first} and {last} show the same spots on the same pixels: turn the hour axis between "
        "pictures, best by an hour or more"
    )


def none_recognised(
    names: Sequence[str], spots: Sequence[int], *, mirrored: bool, below: bool
) -> AxletreeError:
    """Nothing in the sky looks like them."""
    who = names[0] if len(names) == 1 else "the pictures"
    if mirrored:
        return AxletreeError(
            f"{names[0]}: the stars stand as in a mirror; take the picture without a diagonal "
            "mirror, or turn off 'mirror' in the camera"
        )
    if below:
        return AxletreeError(
            f"{names[0]}: by its time and this site it looks below the horizon; are the time, its "
            "zone and the site right?"
        )
    few = min(spots)
    return AxletreeError(
        f"no stars of {who} were recognised (from {few} spots on): is the focal length right, is "
        "the field wider than 2°, and is --towards right?"
    )


def only_one_recognised(name: str) -> AxletreeError:
    """Of all pictures one alone was recognised."""
    return AxletreeError(
        f"only {name} was recognised, and one picture shows no turn: give two or more, with the "
        "hour axis turned between them"
    )


def too_low(name: str, altitude_deg: float) -> AxletreeError:
    """Through too much air."""
    side = "above" if altitude_deg >= 0 else "below"
    return AxletreeError(
        f"{name}: looks {abs(altitude_deg):.0f}° {side} the horizon at its time from this site; "
        "are the time, its zone and the site right?"
    )
