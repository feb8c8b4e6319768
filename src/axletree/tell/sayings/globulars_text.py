"""What may be said of globular clusters? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

GLOBULARS = {
    "M2": Saying(
        "A ball of over a hundred thousand old stars", 37_000,
        "It circles our Milky Way far outside its disc, as some 150 of its kind do.",
        DistanceSource.GLOBULARS,
    ),
    "M3": Saying(
        "A ball of about half a million old stars", 34_000,
        "Over two hundred of its stars are known to change their light, most within a day.",
        DistanceSource.GLOBULARS,
    ),
    "M4": Saying(
        "One of the nearest balls of old stars", 6_000,
        "It stands beside Antares in the sky, but more than ten times as far away.",
        DistanceSource.GLOBULARS,
    ),
    "M5": Saying(
        "A ball of some hundred thousand stars, among the oldest that are known", 24_500,
        "Its stars are over ten thousand million years old, more than twice as old as the Sun.",
        DistanceSource.GLOBULARS,
    ),
    "M10": Saying(
        "A ball of old stars", 16_500,
        "Light from it set out when people here still hunted through the last ice age.",
        DistanceSource.GLOBULARS,
    ),
    "M12": Saying(
        "A loose ball of old stars", 16_700,
        "Our Milky Way seems to have pulled many of its lightest stars away.",
        DistanceSource.GLOBULARS,
    ),
    "M13": Saying(
        "A ball of several hundred thousand old stars", 24_000,
        "In 1974 a radio message was sent towards it; it will be under way for 24,000 years.",
        DistanceSource.GLOBULARS,
    ),
    "M15": Saying(
        "A very dense ball of old stars", 34_000,
        "Its stars crowd to the middle as in few others; perhaps a black hole sits there.",
        DistanceSource.GLOBULARS,
    ),
    "M19": Saying(
        "A ball of old stars, one of the least round that are known", 27_000,
        "It stands near the middle of our Milky Way, beyond clouds of dust.",
        DistanceSource.GLOBULARS,
    ),
    "M22": Saying(
        "One of the brightest balls of old stars in our sky", 10_700,
        "It was the first of its kind to be noted down, in 1665.",
        DistanceSource.GLOBULARS,
    ),
    "M28": Saying(
        "A ball of old stars beside the lid of the Archer's teapot", 17_500,
        "A burnt-out star in it turns round over 300 times a second; it was the first such in a "
        "ball like this.",
        DistanceSource.GLOBULARS,
    ),
    "M30": Saying(
        "A ball of old stars whose middle has fallen together", 27_500,
        "It goes round the Milky Way backwards, so it probably came from a galaxy that was "
        "swallowed.",
        DistanceSource.GLOBULARS,
    ),
    "M53": Saying(
        "A ball of old stars far above the disc of our Milky Way", 60_000,
        "A second ball, much fainter, stands one degree away; large telescopes show it.",
        DistanceSource.GLOBULARS,
    ),
    "M54": Saying(
        "A ball of old stars that belongs to another, small galaxy", 86_000,
        "That galaxy is being torn apart by our Milky Way; the ball is its heart.",
        DistanceSource.GLOBULARS,
    ),
    "M55": Saying(
        "A wide, loose ball of old stars", 17_500,
        "It is so loose that a modest telescope shows single stars right across it.",
        DistanceSource.GLOBULARS,
    ),
    "M56": Saying(
        "A small ball of old stars between Albireo and Lyra", 34_000,
        "It seems to have come to us with a galaxy that the Milky Way swallowed.",
        DistanceSource.GLOBULARS,
    ),
    "M62": Saying(
        "A crowded ball of old stars", 21_000,
        "Its middle seems to stand off to one side: dust hides part of it.",
        DistanceSource.GLOBULARS,
    ),
    "M68": Saying(
        "A ball of old stars south of the Crow", 34_000,
        "It belongs to the outer halo, far from most others of its kind in the sky.",
        DistanceSource.GLOBULARS,
    ),
    "M71": Saying(
        "A loose ball of old stars in the Arrow", 13_000,
        "It is so loose that for long people took it for an open cluster.",
        DistanceSource.GLOBULARS,
    ),
    "M75": Saying(
        "A small, very dense ball of old stars", 67_000,
        "It is one of the farthest of Messier's list, beyond the middle of our Milky Way.",
        DistanceSource.GLOBULARS,
    ),
    "M79": Saying(
        "A ball of old stars in the winter sky, where there is hardly another", 42_000,
        "Most such balls stand about the middle of the Milky Way; this one lies on the other side "
        "of us.",
        DistanceSource.GLOBULARS,
    ),
    "M80": Saying(
        "One of the densest balls of old stars", 34_000,
        "In 1860 a star flared up in it that for some days outshone all the rest together.",
        DistanceSource.GLOBULARS,
    ),
    "M92": Saying(
        "A ball of old stars in Hercules", 27_000,
        "It is one of the oldest things in our Milky Way, nearly as old as the universe.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 104": Saying(
        "The second brightest ball of old stars in the whole sky", 14_700,
        "It stands beside a small neighbour galaxy in the sky, which is over ten times farther.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 362": Saying(
        "A ball of old stars beside the Small Magellanic Cloud", 29_000,
        "The Cloud beside it is another galaxy, about seven times as far.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 2808": Saying(
        "One of the heaviest balls of stars, over a million suns", 33_000,
        "Its stars were born in several waves, and not all at once, as people had thought.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 3201": Saying(
        "A loose ball of old stars in the southern sky", 15_500,
        "In 2018 a star in it was found to circle a black hole that nobody can see.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 5139": Saying(
        "The largest ball of stars of our Milky Way, ten million of them", 17_700,
        "It may be the heart of a small galaxy that the Milky Way swallowed.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 6397": Saying(
        "One of the two nearest balls of old stars", 8_100,
        "In it a space telescope reached the faintest stars that still burn, and burnt-out ones "
        "beyond.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 6541": Saying(
        "A compact ball of old stars in the Southern Crown", 25_000,
        "It is bright enough for binoculars, but too far south for most of Europe.",
        DistanceSource.GLOBULARS,
    ),
    "NGC 6752": Saying(
        "One of the brightest balls of old stars, in the Peacock", 13_500,
        "The bright star at its edge only stands in front, and is double.",
        DistanceSource.GLOBULARS,
    ),
}  # fmt: skip
