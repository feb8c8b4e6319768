"""Where are the star images in a picture, and how bright is each?

The background is the median of blocks, the noise is measured in a slightly smoothed picture, and
what stands out is gathered into spots. A spot whose peak holds nearly all the light is a hot pixel,
a place that is rough and crowded is no sky. Centres: light-weighted means inside a window of the
spot's own shape, repeated (E. Bertin and S. Arnouts 1996, A&AS 117, 393 for the background and the
idea; from memory).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.spots import Spots, gather, place_sigma_px
from axletree.sky.arrays import Floats, Indices, Mask, Singles

BLOCK_PX = 32
# A star's light must stand out of the smoothed noise by so much.
THRESHOLD_SIGMAS = 4.5
# A peak whose four neighbours together hold less than this part of its light is a hot pixel.
HOT_PIXEL_NEIGHBOURS = 0.22
# Where spots stand so many times denser than usual, and the noise is so many times the usual one,
# are leaves and no sky; dark ones under a bright sky are no rougher than it, but denser yet. In 34
# simulated pictures with trees a hundredth of the 48 brightest spots that are left are leaves (a
# sixth with the dense crowd alone).
CROWDED, ROUGH, DENSE = 2.0, 1.4, 5.0
MOST_STARS = 600
# Longer streaks than this are no stars with a place: satellites, or a shutter open too long.
LONGEST_PX = 40.0
# So many times as long as broad a spot is a streak, no cloud and no branch.
THIN = 4.0
# Parts along the longer side in which spots are counted. One that holds less than this share of
# what well filled ones hold, if those hold enough to tell, is behind a cloud or a tree.
_PARTS, _HIDDEN_BELOW, _TELLING = 6, 0.25, 4.0
_SPREADS_PX = (0.7, 4.0)
_LEAST_NOISE = 0.15  # grey levels: JPEG's rounding leaves no less
_CROWD_LEAST = 10.0  # spots in nine blocks


@dataclass(frozen=True)
class StarImages:
    """Spots that look like stars, from bright to faint; arrays (n,), pixels counted from 0.

    `light`: above the background, grey levels; `sigma_px`: how well the middle is known, one
    standard deviation of a coordinate; `length_px`: how long the spot is along its longer axis
    (four standard deviations). `width_px`, `height_px`: the picture.
    `streaks_px`: lengths of what was too long for a star.
    """

    x_px: Floats
    y_px: Floats
    light: Floats
    sigma_px: Floats
    length_px: Floats
    elongation: Floats
    width_px: int
    height_px: int
    streaks_px: tuple[float, ...] = ()

    def __len__(self) -> int:
        return len(self.x_px)

    @property
    def places(self) -> Floats:
        """(n, 2) pixels."""
        return np.stack([self.x_px, self.y_px], axis=-1)

    @property
    def spread_px(self) -> float:
        """One standard deviation of a usual star's image, within what stars have."""
        return float(np.clip(np.median(self.length_px) / 4.0, *_SPREADS_PX))

    def stars_show(self) -> Mask:
        """Parts (rows, columns) of the picture in which stars show: all but those that hold hardly
        any of the spots, behind a cloud or a tree."""
        longest = max(self.width_px, self.height_px)
        rows = max(round(_PARTS * self.height_px / longest), 1)
        columns = max(round(_PARTS * self.width_px / longest), 1)
        counts = np.zeros((rows, columns))
        np.add.at(counts, self._part_of(self.places, counts.shape), 1.0)
        filled = float(np.quantile(counts, 0.75))
        return counts >= (_HIDDEN_BELOW * filled if filled >= _TELLING else 0.0)

    def in_parts(self, places_px: Floats, parts: Mask) -> Mask:
        """Whether places (n, 2) lie in some parts of the picture, such as `stars_show` tells."""
        return np.asarray(parts[self._part_of(places_px, parts.shape)])

    def _part_of(self, places_px: Floats, shape: tuple[int, ...]) -> tuple[Indices, Indices]:
        rows, columns = shape
        x = np.floor(places_px[:, 0] * columns / self.width_px).astype(int)
        y = np.floor(places_px[:, 1] * rows / self.height_px).astype(int)
        return np.clip(y, 0, rows - 1), np.clip(x, 0, columns - 1)

    def take(self, which: Indices | Mask | slice) -> StarImages:
        """Some of them."""
        return replace(
            self,
            **{
                name: getattr(self, name)[which]
                for name in ("x_px", "y_px", "light", "sigma_px", "length_px", "elongation")
            },
        )


@dataclass(frozen=True)
class Above:
    """What stands above the background of a picture (height, width).

    `light`, and the same `smooth`; its noise of each block and at each pixel; `bright`: flat places
    (ascending) of the pixels that stand out of it, none at the very edge.
    """

    light: Singles
    smooth: Singles
    block_noise: Singles
    noise: Singles
    bright: Indices


def above_background(grey: Singles) -> Above:
    """That of a picture of any grey scale."""
    light, blocks = _without_background(grey)
    smooth = _smoothed(light)
    block_noise = _noise(smooth, blocks.shape)
    noise = _spread(block_noise, grey.shape)
    bright = smooth > THRESHOLD_SIGMAS * noise
    bright[:2], bright[-2:], bright[:, :2], bright[:, -2:] = False, False, False, False
    return Above(light, smooth, block_noise, noise, np.flatnonzero(bright))


def star_images(grey: Singles) -> StarImages:
    """The star images of a picture (height, width) of any grey scale."""
    height, width = grey.shape
    above = above_background(grey)
    noise = above.block_noise
    spots = gather(above.light, above.smooth, above.bright, width)
    spots = spots.take(_open_sky(spots, noise))
    thin = (spots.length >= LONGEST_PX) & (spots.length > THIN * spots.breadth)
    streaks = tuple(float(n) for n in spots.length[thin])
    spots = spots.take(_like_stars(spots, above.light))
    order = np.argsort(-spots.light, kind="stable")[:MOST_STARS]
    spots = spots.take(order)
    own_noise = noise[_block_of(spots, noise)]
    return StarImages(
        x_px=spots.x,
        y_px=spots.y,
        light=spots.light,
        sigma_px=place_sigma_px(spots, own_noise),
        length_px=spots.length,
        elongation=spots.length / np.maximum(spots.breadth, 0.5),
        width_px=width,
        height_px=height,
        streaks_px=streaks,
    )


def _blocks(picture: Singles) -> Singles:
    """(rows, columns, pixels) of whole blocks; what is over at the edges is left out."""
    height, width = picture.shape
    rows, columns = max(height // BLOCK_PX, 1), max(width // BLOCK_PX, 1)
    tall, wide = min(height, BLOCK_PX), min(width, BLOCK_PX)
    cut = picture[: rows * tall, : columns * wide].reshape(rows, tall, columns, wide)
    return cut[:, ::2].swapaxes(1, 2).reshape(rows, columns, -1)


def _without_background(grey: Singles) -> tuple[Singles, Singles]:
    middle = np.median(_blocks(grey), axis=-1)
    middle = _median_of_neighbours(middle)
    return grey - _spread(middle, grey.shape), middle


def _noise(smooth: Singles, shape: tuple[int, ...]) -> Singles:
    blocks = _blocks(smooth)
    away = np.median(np.abs(blocks), axis=-1) * np.float32(1.4826)
    return np.maximum(_median_of_neighbours(away.reshape(shape)), np.float32(_LEAST_NOISE))


def _median_of_neighbours(values: Singles) -> Singles:
    """The median of each value and its eight neighbours: a bright star's block counts little."""
    padded = np.pad(values, 1, mode="edge")
    rows, columns = values.shape
    around = [padded[i : i + rows, j : j + columns] for i in range(3) for j in range(3)]
    return np.median(np.stack(around), axis=0).astype(np.float32)


def _spread(values: Singles, shape: tuple[int, ...]) -> Singles:
    """Block values over the whole picture, straight lines between the blocks' middles."""
    out = values
    for axis, size in ((1, shape[1]), (0, shape[0])):
        count = values.shape[axis]
        at = np.clip((np.arange(size, dtype=np.float32) + 0.5) / BLOCK_PX - 0.5, 0, count - 1)
        low = np.minimum(at.astype(int), max(count - 2, 0))
        part = (at - low).astype(np.float32)
        high = np.minimum(low + 1, count - 1)
        if axis == 1:
            out = out[:, low] * (1 - part) + out[:, high] * part
        else:
            out = out[low] * (1 - part)[:, None] + out[high] * part[:, None]
    return out


def _smoothed(picture: Singles) -> Singles:
    """Binomial weights 1 4 6 4 1 both ways: a star of about a pixel's standard deviation."""
    out = picture
    for axis in (0, 1):
        padded = np.pad(out, [(2, 2) if a == axis else (0, 0) for a in (0, 1)], mode="edge")
        n = out.shape[axis]

        def part(k: int, padded: Singles = padded, n: int = n, axis: int = axis) -> Singles:
            return padded[k : k + n] if axis == 0 else padded[:, k : k + n]

        out = part(2) * np.float32(6.0)
        total = part(1) + part(3)
        total *= np.float32(4.0)
        out += total
        out += part(0)
        out += part(4)
        out *= np.float32(1.0 / 16.0)
    return out


def _like_stars(spots: Spots, light: Singles) -> Mask:
    """Which spots are no hot pixels and no long streaks."""
    x, y = spots.peak_x, spots.peak_y
    around = light[y - 1, x] + light[y + 1, x] + light[y, x - 1] + light[y, x + 1]
    hot = around < HOT_PIXEL_NEIGHBOURS * light[y, x]
    return np.asarray(~hot & (spots.length < LONGEST_PX))


def _block_of(spots: Spots, blocks: Singles) -> tuple[Indices, Indices]:
    """Rows and columns of the blocks in which spots stand."""
    rows, columns = blocks.shape
    return (
        np.minimum((spots.y / BLOCK_PX).astype(int), rows - 1),
        np.minimum((spots.x / BLOCK_PX).astype(int), columns - 1),
    )


def _open_sky(spots: Spots, noise: Singles) -> Mask:
    """Which spots don't lie in a part of the picture that is crowded, less so if it is rough:
    leaves."""
    own = _block_of(spots, noise)
    counts = np.zeros(noise.shape)
    np.add.at(counts, own, 1.0)
    # Nine blocks about each; at the edges fewer, and as many spots as nine would hold.
    crowd = 9.0 * _sum_of_neighbours(counts) / _sum_of_neighbours(np.ones_like(counts))
    usual = max(float(np.median(crowd)), 1.0)
    rough = noise > ROUGH * float(np.median(noise))
    most = np.maximum(np.where(rough, CROWDED, DENSE) * usual, _CROWD_LEAST)
    return np.asarray((crowd <= most)[own])


def _sum_of_neighbours(values: Floats) -> Floats:
    """The sum of each value and its eight neighbours."""
    padded = np.pad(values, 1)
    rows, columns = values.shape
    return np.asarray(
        sum(padded[i : i + rows, j : j + columns] for i in range(3) for j in range(3))
    )


def on_the_sensor(pictures: list[StarImages], within_px: float = 0.8) -> list[NDArray[np.bool_]]:
    """Which spots of each picture stand on the same pixel in another picture too."""
    found = []
    for k, own in enumerate(pictures):
        still = np.zeros(len(own), dtype=bool)
        for j, other in enumerate(pictures):
            if j != k and len(own) and len(other):
                apart = np.abs(own.places[:, None] - other.places[None]).max(axis=-1)
                still |= apart.min(axis=1) < within_px
        found.append(still)
    return found
