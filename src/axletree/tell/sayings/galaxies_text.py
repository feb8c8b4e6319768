"""What may be said of galaxies? Distances and facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import Saying

GALAXIES = {
    "M31": Saying(
        "The great galaxy of Andromeda, several hundred thousand million suns", 2.5e6,
        "It is the farthest thing that most people ever see with the bare eye.",
    ),
    "M32": Saying(
        "A small, round companion of the great galaxy of Andromeda", 2.5e6,
        "Its middle is one of the densest crowds of stars that we know.",
    ),
    "M110": Saying(
        "A small companion of the great galaxy of Andromeda", 2.7e6,
        "It was the last object added to Messier's list, and that only in 1967.",
    ),
    "M33": Saying(
        "The third largest galaxy of our own group", 2.7e6,
        "One of the largest clouds of glowing gas known lies in it, 1,500 light years wide.",
    ),
    "M51": Saying(
        "Two galaxies that pass each other", 28e6,
        "In 1845 it was the first in which anybody saw spiral arms.",
    ),
    "M63": Saying(
        "A spiral galaxy with many short, patchy arms", 29e6,
        "It belongs to the same small group as M51.",
    ),
    "M64": Saying(
        "A galaxy with a dark band of dust before its middle", 17e6,
        "Its outer gas turns the other way round than its stars, so it has probably swallowed a "
        "neighbour.",
    ),
    "M65": Saying(
        "One of three galaxies that stand together in the Lion", 35e6,
        "Its light set out tens of millions of years ago, when no human lived.",
    ),
    "M66": Saying(
        "The brightest of three galaxies in the Lion", 35e6,
        "The pull of its neighbours has drawn its arms out of shape.",
    ),
    "M81": Saying(
        "A large spiral galaxy in the Great Bear", 12e6,
        "In 1993 a star exploded in it that could be seen in small telescopes.",
    ),
    "M82": Saying(
        "A galaxy seen nearly edge-on, torn by a passage of its neighbour M81", 12e6,
        "Stars are born in its middle several times as fast as in our whole Milky Way.",
    ),
    "M87": Saying(
        "A giant galaxy at the heart of the Virgo cluster", 54e6,
        "The first picture of the shadow of a black hole, in 2019, was of the one in its middle.",
    ),
    "M94": Saying(
        "A galaxy with a bright ring of young stars about its middle", 16e6,
        "Another, much fainter ring lies far outside it.",
    ),
    "M101": Saying(
        "A spiral galaxy seen from right above, wider than our Milky Way", 21e6,
        "In 2011 and in 2023 stars exploded in it that small telescopes could show.",
    ),
    "M104": Saying(
        "A galaxy with a broad band of dust, like a hat with a brim", 30e6,
        "It was one of the first found to fly away from us, at over 1,000 km a second.",
    ),
    "M106": Saying(
        "A spiral galaxy with a restless black hole", 24e6,
        "Water vapour that circles in its middle gave one of the surest distances to a galaxy.",
    ),
    "NGC 253": Saying(
        "A large galaxy seen nearly edge-on", 11.5e6,
        "It is full of dust and of young stars, and one of the brightest beyond our own group.",
    ),
    "NGC 891": Saying(
        "A galaxy seen exactly from its edge", 30e6,
        "So our own Milky Way would look from the side, with its band of dust.",
    ),
    "NGC 5128": Saying(
        "A giant galaxy with a belt of dust across it", 12e6,
        "The belt is what is left of a spiral galaxy that it swallowed.",
    ),
}  # fmt: skip
