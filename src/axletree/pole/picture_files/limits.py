"""How large may a picture be, and how is one refused that is larger, or damaged?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError

MOST_PIXELS = 100_000_000
LEAST_SIDE_PX = 100
LARGEST_FILE_BYTES = 400_000_000
# What a page sends, reduced.
LARGEST_SENT_BYTES = 2_000_000


def too_many_pixels(size_px: tuple[int, int] | None = None) -> AxletreeError:
    """The refusal of a picture of more pixels, width and height where they are known."""
    what = f"{size_px[0]} x {size_px[1]} pixels are" if size_px else "its pixels are"
    return AxletreeError(
        f"{what} more than the {MOST_PIXELS / 1e6:.0f} million that a picture may have"
    )


def damaged() -> AxletreeError:
    """The refusal of a picture that ends too early, or can't be unpacked."""
    return AxletreeError("the picture is cut off or damaged")


def refuse_too_many(width_px: int, height_px: int) -> None:
    """Refuse a picture of more pixels than `MOST_PIXELS` before it is unpacked."""
    if width_px * height_px > MOST_PIXELS:
        raise too_many_pixels((width_px, height_px))
