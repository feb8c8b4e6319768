"""What may be said of star clusters? Distances and facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import Saying

CLUSTERS = {
    "M2": Saying(
        "A ball of over a hundred thousand old stars", 37_000,
        "It circles our Milky Way far outside its disc, as some 150 of its kind do.",
    ),
    "M3": Saying(
        "A ball of about half a million old stars", 34_000,
        "Over two hundred of its stars are known to change their light, most within a day.",
    ),
    "M4": Saying(
        "One of the nearest balls of old stars", 6_000,
        "It stands beside Antares in the sky, but more than ten times as far away.",
    ),
    "M5": Saying(
        "A ball of some hundred thousand stars, among the oldest that are known", 24_500,
        "Its stars are over ten thousand million years old, more than twice as old as the Sun.",
    ),
    "M6": Saying(
        "A young open cluster whose stars draw the wings of a butterfly", 1_600,
        "Its stars were born together about a hundred million years ago, when dinosaurs lived.",
    ),
    "M7": Saying(
        "An open cluster that is seen without any telescope", 980,
        "Ptolemy wrote of it about the year 130, so it bears his name.",
    ),
    "M10": Saying(
        "A ball of old stars", 14_000,
        "Light from it set out when people here still hunted through the last ice age.",
    ),
    "M11": Saying(
        "One of the richest open clusters, with some 3,000 stars", 6_200,
        "From a planet in it several hundred stars of the first magnitude would shine at night.",
    ),
    "M12": Saying(
        "A loose ball of old stars", 16_000,
        "Our Milky Way seems to have pulled many of its lightest stars away.",
    ),
    "M13": Saying(
        "A ball of several hundred thousand old stars", 23_000,
        "In 1974 a radio message was sent towards it; it will be under way for 23,000 years.",
    ),
    "M15": Saying(
        "A very dense ball of old stars", 34_000,
        "Its stars crowd to the middle as in few others; perhaps a black hole sits there.",
    ),
    "M22": Saying(
        "One of the brightest balls of old stars in our sky", 10_000,
        "It was the first of its kind to be noted down, in 1665.",
    ),
    "M34": Saying(
        "An open cluster of about a hundred young stars", 1_500,
        "Its stars are some 200 million years old, a twentieth of the Sun's age.",
    ),
    "M35": Saying(
        "An open cluster as wide in the sky as the Moon", 2_800,
        "The faint patch beside it is another cluster, four times farther away.",
    ),
    "M36": Saying(
        "A young open cluster", 4_300,
        "Its stars are some 25 million years old, and none of the bright ones is red yet.",
    ),
    "M37": Saying(
        "The richest of three open clusters of the Charioteer", 4_500,
        "It has over 500 stars, with an orange giant near the middle.",
    ),
    "M38": Saying(
        "An open cluster whose brighter stars seem to make a cross", 3_500,
        "All its stars are of one age, so the heavy ones show how fast stars grow old.",
    ),
    "M39": Saying(
        "A wide, loose open cluster", 1_000,
        "It is so wide that the finder or the weakest eyepiece shows it best.",
    ),
    "M41": Saying(
        "An open cluster south of Sirius", 2_300,
        "Sirius stands 250 times nearer than it; they only seem to be neighbours.",
    ),
    "M44": Saying(
        "The Beehive, an open cluster seen by the bare eye as a soft patch", 600,
        "In 1609 or 1610 Galileo's telescope first showed that the patch is made of stars.",
    ),
    "M45": Saying(
        "The Pleiades, a cluster of over a thousand young stars", 444,
        "They are about a hundred million years old, and they drift together through a cloud of "
        "dust that glows blue in their light.",
    ),
    "M46": Saying(
        "An open cluster of some 500 stars", 5_000,
        "A small ring of gas seems to lie in it, but stands nearer to us than the cluster.",
    ),
    "M47": Saying(
        "A coarse, bright open cluster", 1_600,
        "Its brightest stars are hot and blue, for they are young.",
    ),
    "M67": Saying(
        "One of the oldest open clusters", 2_800,
        "It is about as old as the Sun, some four thousand million years.",
    ),
    "M92": Saying(
        "A ball of old stars in Hercules", 27_000,
        "It is one of the oldest things in our Milky Way, nearly as old as the universe.",
    ),
    "NGC 869": Saying(
        "One half of the double cluster of Perseus", 7_500,
        "Both halves are only some 14 million years old, and stand side by side in space, too.",
    ),
    "NGC 884": Saying(
        "One half of the double cluster of Perseus", 7_500,
        "The orange stars in it are giants near their end, though they are only some 14 million "
        "years old.",
    ),
    "NGC 457": Saying(
        "An open cluster in which people see an owl or a man with arms spread", 8_000,
        "The bright star that makes an eye probably stands far in front of it.",
    ),
    "NGC 752": Saying(
        "A wide, old open cluster", 1_450,
        "It is more than a thousand million years old, an age that few loose clusters reach.",
    ),
    "NGC 104": Saying(
        "The second brightest ball of old stars in the whole sky", 14_700,
        "It stands beside a small neighbour galaxy in the sky, which is over ten times farther.",
    ),
    "NGC 5139": Saying(
        "The largest ball of stars of our Milky Way, ten million of them", 17_000,
        "It may be the heart of a small galaxy that the Milky Way swallowed.",
    ),
    "NGC 4755": Saying(
        "The Jewel Box, a young open cluster in the Southern Cross", 6_400,
        "One red giant stands among blue ones, all about 14 million years old.",
    ),
    "NGC 3532": Saying(
        "One of the richest open clusters of the southern sky", 1_500,
        "It was the first object that the Hubble telescope took a picture of, in 1990.",
    ),
}  # fmt: skip
