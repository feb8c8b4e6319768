"""What may be said of galaxies? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

GALAXIES = {
    "M31": Saying(
        "The great galaxy of Andromeda, several hundred thousand million suns", 2.5e6,
        "It is the farthest thing that most people ever see with the bare eye.",
    ),
    "M32": Saying(
        "A small, round companion of the great galaxy of Andromeda", 2.5e6,
        "Its middle is one of the densest crowds of stars that we know.",
    ),
    "M33": Saying(
        "The third largest galaxy of our own group", 2.7e6,
        "One of the largest clouds of glowing gas known lies in it, 1,500 light years wide.",
    ),
    "M49": Saying(
        "A giant round galaxy, the brightest of the Virgo cluster", 55e6,
        "It was the first of that great cluster of galaxies to be seen, in 1771.",
        DistanceSource.REDSHIFT,
    ),
    "M51": Saying(
        "Two galaxies that pass each other", 28e6,
        "In 1845 it was the first in which anybody saw spiral arms.",
        DistanceSource.REDSHIFT,
    ),
    "M60": Saying(
        "A giant round galaxy at the edge of the Virgo cluster", 55e6,
        "A fainter spiral seems to touch it; larger telescopes show both.",
        DistanceSource.REDSHIFT,
    ),
    "M63": Saying(
        "A spiral galaxy with many short, patchy arms", 29e6,
        "It belongs to the same small group as M51.",
        DistanceSource.REDSHIFT,
    ),
    "M64": Saying(
        "A galaxy with a dark band of dust before its middle", 17e6,
        "Its outer gas turns the other way round than its stars, so it has probably swallowed a "
        "neighbour.",
        DistanceSource.REDSHIFT,
    ),
    "M65": Saying(
        "One of three galaxies that stand together in the Lion", 35e6,
        "Its light set out tens of millions of years ago, when no human lived.",
        DistanceSource.REDSHIFT,
    ),
    "M66": Saying(
        "The brightest of three galaxies in the Lion", 35e6,
        "The pull of its neighbours has drawn its arms out of shape.",
        DistanceSource.REDSHIFT,
    ),
    "M74": Saying(
        "A spiral galaxy seen from right above, faint and wide", 31e6,
        "Its light is spread so thin that it is among the hardest of Messier's list.",
        DistanceSource.REDSHIFT,
    ),
    "M77": Saying(
        "A spiral galaxy with a middle as sharp as a star", 45e6,
        "Its middle is so bright because gas falls into a black hole of millions of suns there.",
        DistanceSource.REDSHIFT,
    ),
    "M81": Saying(
        "A large spiral galaxy in the Great Bear", 12e6,
        "In 1993 a star exploded in it that could be seen in small telescopes.",
    ),
    "M82": Saying(
        "A galaxy seen nearly edge-on, torn by a passage of its neighbour M81", 12e6,
        "Stars are born in its middle several times as fast as in our whole Milky Way.",
        DistanceSource.REDSHIFT,
    ),
    "M83": Saying(
        "A spiral galaxy seen nearly from above, one of the brightest of the south", 15e6,
        "In the twentieth century six exploding stars were seen in it.",
    ),
    "M84": Saying(
        "A round galaxy in the heart of the Virgo cluster", 55e6,
        "With M86 beside it, it is where a long chain of galaxies begins.",
        DistanceSource.REDSHIFT,
    ),
    "M86": Saying(
        "A round galaxy in the heart of the Virgo cluster", 54e6,
        "Nearly all galaxies fly away from us; this one comes nearer, as it falls through its "
        "cluster.",
    ),
    "M87": Saying(
        "A giant galaxy at the heart of the Virgo cluster", 54e6,
        "The first picture of the shadow of a black hole, in 2019, was of the one in its middle.",
        DistanceSource.REDSHIFT,
    ),
    "M94": Saying(
        "A galaxy with a bright ring of young stars about its middle", 16e6,
        "Another, much fainter ring lies far outside it.",
        DistanceSource.REDSHIFT,
    ),
    "M95": Saying(
        "A spiral galaxy with a bar across its middle", 33e6,
        "It stands with M96 in one field of low power.",
        DistanceSource.REDSHIFT,
    ),
    "M96": Saying(
        "The brightest of a small group of galaxies in the Lion", 33e6,
        "Its middle stands off to one side, pulled by its neighbours.",
        DistanceSource.REDSHIFT,
    ),
    "M101": Saying(
        "A spiral galaxy seen from right above, wider than our Milky Way", 21e6,
        "In 2011 and in 2023 stars exploded in it that small telescopes could show.",
    ),
    "M102": Saying(
        "A galaxy like a lens, seen from its edge", 50e6,
        "A thin, straight lane of dust cuts it; large telescopes show it.",
    ),
    "M104": Saying(
        "A galaxy with a broad band of dust, like a hat with a brim", 30e6,
        "It was one of the first found to fly away from us, at over 1,000 km a second.",
    ),
    "M105": Saying(
        "A round galaxy in the Lion, with two others beside it", 35e6,
        "It has hardly any gas left, and so hardly any young stars.",
        DistanceSource.REDSHIFT,
    ),
    "M106": Saying(
        "A spiral galaxy with a restless black hole", 24e6,
        "Water vapour that circles in its middle gave one of the surest distances to a galaxy.",
        DistanceSource.REDSHIFT,
    ),
    "M110": Saying(
        "A small companion of the great galaxy of Andromeda", 2.7e6,
        "It was the last object added to Messier's list, and that only in 1967.",
    ),
    "NGC 55": Saying(
        "A long galaxy seen from its edge", 6.5e6,
        "One half of it is much brighter than the other; look which.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 253": Saying(
        "A large galaxy seen nearly edge-on", 11.5e6,
        "It is full of dust and of young stars, and one of the brightest beyond our own group.",
        DistanceSource.REDSHIFT,
    ),
    "Small Magellanic Cloud": Saying(
        "The Small Magellanic Cloud, a small galaxy that accompanies our own", 200_000,
        "On stars in it Henrietta Leavitt found, by 1912, the rule from which distances to "
        "galaxies came.",
        DistanceSource.COMPANIONS,
    ),
    "NGC 891": Saying(
        "A galaxy seen exactly from its edge", 30e6,
        "So our own Milky Way would look from the side, with its band of dust.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 1316": Saying(
        "A giant galaxy at the edge of the Fornax cluster", 62e6,
        "It has swallowed several neighbours, and is one of the strongest radio sources of the "
        "sky.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 2403": Saying(
        "A near spiral galaxy in the Giraffe", 10e6,
        "In 2004 a star exploded in it that small telescopes could show.",
    ),
    "NGC 2903": Saying(
        "A spiral galaxy with a bar, before the Lion's head", 30e6,
        "It is as bright as many of Messier's galaxies, but he missed it.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 3115": Saying(
        "A galaxy like a spindle, seen from its edge", 32e6,
        "A black hole as heavy as a thousand million suns or so sits in its middle.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 4565": Saying(
        "A spiral galaxy seen exactly from its edge, thin as a needle", 42e6,
        "A dark line of dust runs along it, as the Milky Way would show it from outside.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 4631": Saying(
        "A long galaxy seen from its edge, like a whale", 24e6,
        "A small companion stands close above it like a breath.",
        DistanceSource.REDSHIFT,
    ),
    "NGC 5128": Saying(
        "A giant galaxy with a belt of dust across it", 12e6,
        "The belt is what is left of a spiral galaxy that it swallowed.",
    ),
    "NGC 6946": Saying(
        "A spiral galaxy seen through the dust of our own Milky Way", 24e6,
        "Ten exploding stars were seen in it in a hundred years, more than in any other galaxy.",
    ),
    "NGC 7331": Saying(
        "A spiral galaxy in Pegasus, seen aslant", 46e6,
        "The faint galaxies beside it are no companions: they stand many times as far.",
        DistanceSource.REDSHIFT,
    ),
    "Large Magellanic Cloud": Saying(
        "The Large Magellanic Cloud, a small galaxy that accompanies our own", 163_000,
        "In 1987 a star exploded in it that could be seen without any telescope.",
        DistanceSource.COMPANIONS,
    ),
}  # fmt: skip
