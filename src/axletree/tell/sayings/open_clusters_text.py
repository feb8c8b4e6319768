"""What may be said of open clusters and star clouds? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

OPEN_CLUSTERS = {
    "Double Cluster": Saying(
        "Two young open clusters side by side, the pride of Perseus", 7_500,
        "To the bare eye they are one soft patch in the Milky Way; a low power shows both in one "
        "field.",
    ),
    "M6": Saying(
        "A young open cluster whose stars draw the wings of a butterfly", 1_600,
        "Its stars were born together about a hundred million years ago, when dinosaurs lived.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M7": Saying(
        "An open cluster that is seen without any telescope", 980,
        "Ptolemy wrote of it about the year 130, so it bears his name.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M11": Saying(
        "One of the richest open clusters, with some 3,000 stars", 7_000,
        "From a planet in it several hundred stars of the first magnitude would shine at night.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M21": Saying(
        "A young open cluster beside the cloud M20", 4_000,
        "Its bright stars are hot and blue; the pair of them in the middle is easy to part.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M23": Saying(
        "An open cluster of well over a hundred stars", 2_100,
        "Its stars lie in curves and chains, all of much the same brightness; use the lowest "
        "power.",
    ),
    "M24": Saying(
        "No cluster, but a window between clouds of dust, deep into the Milky Way", 10_000,
        "With low power hundreds of stars stand in one field; the dark spots at its edge are "
        "nearer dust.",
    ),
    "M25": Saying(
        "A bright open cluster in the Archer", 2_100,
        "One of its yellow giants beats once a week; from such stars distances to galaxies are "
        "known.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M29": Saying(
        "A small open cluster in the Swan, a box of six or eight stars", 5_300,
        "Dust on the way takes most of its light; without it the cluster would shine several "
        "times as bright.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M34": Saying(
        "An open cluster of about a hundred young stars", 1_500,
        "Its stars are some 200 million years old, a twentieth of the Sun's age.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M35": Saying(
        "An open cluster nearly as wide in the sky as the Moon", 2_800,
        "The faint patch beside it is another cluster, four times farther away.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M36": Saying(
        "A young open cluster", 3_800,
        "Its stars are some 25 million years old, and none of the bright ones is red yet.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M37": Saying(
        "The richest of three open clusters of the Charioteer", 4_500,
        "It has over 500 stars, with an orange giant near the middle.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M38": Saying(
        "An open cluster whose brighter stars seem to make a cross", 3_500,
        "All its stars are of one age, so the heavy ones show how fast stars grow old.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M39": Saying(
        "A wide, loose open cluster", 1_000,
        "It is so wide that the finder or the weakest eyepiece shows it best.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M41": Saying(
        "An open cluster south of Sirius", 2_300,
        "Sirius stands 250 times nearer than it; they only seem to be neighbours.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M44": Saying(
        "The Beehive, an open cluster seen by the bare eye as a soft patch", 600,
        "In 1609 or 1610 Galileo's telescope first showed that the patch is made of stars.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M45": Saying(
        "The Pleiades, a cluster of over a thousand young stars", 444,
        "They are about a hundred million years old, and they drift together through a cloud of "
        "dust that glows blue in their light.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M46": Saying(
        "An open cluster of some 500 stars", 5_000,
        "A small ring of gas seems to lie in it, but stands nearer to us than the cluster.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M47": Saying(
        "A coarse, bright open cluster", 1_600,
        "Its brightest stars are hot and blue, for they are young.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M48": Saying(
        "A wide open cluster, shaped like a wedge", 2_500,
        "Messier noted a wrong place for it, and for long nobody knew which cluster he had meant.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M50": Saying(
        "An open cluster in the Unicorn", 2_900,
        "Among its blue-white stars look for a single red one, south of the middle.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M52": Saying(
        "A rich open cluster in Cassiopeia", 4_900,
        "The bright orange star at its edge probably stands far in front of it.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M67": Saying(
        "One of the oldest open clusters", 2_800,
        "It is about as old as the Sun, some four thousand million years.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M93": Saying(
        "A small, bright open cluster", 3_400,
        "Its brighter stars seem to make the head of an arrow.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M103": Saying(
        "A small open cluster in Cassiopeia, like a fan", 8_500,
        "The brightest star at its tip is no member: it stands far in front.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 457": Saying(
        "An open cluster in which people see an owl or a man with arms spread", 9_000,
        "The bright star that makes an eye probably stands far in front of it.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 663": Saying(
        "A rich open cluster in Cassiopeia", 8_500,
        "Many of its hot stars turn so fast that they have thrown off rings of gas.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 752": Saying(
        "A wide, old open cluster", 1_450,
        "It is more than a thousand million years old, an age that few loose clusters reach.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 869": Saying(
        "One half of the double cluster of Perseus", 7_500,
        "Both halves are only some 14 million years old, and stand side by side in space, too.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 884": Saying(
        "One half of the double cluster of Perseus", 7_500,
        "The orange stars in it are giants near their end, though they are only some 14 million "
        "years old.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 1980": Saying(
        "The young stars at the lower end of Orion's sword", 1_300,
        "The brightest of them is a hot star thousands of times as bright as the Sun.",
    ),
    "NGC 1981": Saying(
        "A loose young cluster at the top of Orion's sword", 1_300,
        "It belongs to the same great nursery of stars as the nebula south of it.",
    ),
    "NGC 2169": Saying(
        "A small cluster whose stars draw the number 37", 3_200,
        "Two groups of stars make the two figures; how they are turned depends on your eyepiece.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2239": Saying(
        "The young cluster in the middle of the Rosette nebula", 5_000,
        "Its hot stars have blown a hole into their cloud; the ring around it takes a dark night.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2264": Saying(
        "A young cluster in the shape of a fir tree", 2_400,
        "The bright star at the foot of the tree is one of the hottest that the bare eye can see.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2301": Saying(
        "An open cluster whose bright stars lie in a crooked line", 2_800,
        "Look for a red and a blue star near its middle.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2362": Saying(
        "A young cluster crowded about one bright star, Tau Canis Majoris", 4_200,
        "Tap the tube: the bright star seems to jump about among the others.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2451": Saying(
        "A bright, scattered cluster about an orange star", 620,
        "Two clusters stand here one behind the other, the second about twice as far.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2477": Saying(
        "One of the richest open clusters of the whole sky", 4_600,
        "It has over a thousand stars, so many that a small telescope shows a glow rather than "
        "points.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2516": Saying(
        "A bright cluster of the southern sky, seen without any telescope", 1_300,
        "A few orange giants shine among its white stars, and there are three neat double stars.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3114": Saying(
        "A wide open cluster in the southern Milky Way", 3_200,
        "Its brightest stars are spread so wide that the lowest power shows it best.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3293": Saying(
        "A small, bright young cluster near the great nebula of Carina", 7_800,
        "One orange-red giant stands among its blue stars.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3532": Saying(
        "One of the richest open clusters of the southern sky", 1_500,
        "It was the first object that the Hubble telescope took a picture of, in 1990.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3766": Saying(
        "A young open cluster with two red giants among blue stars", 6_500,
        "It is only some 20 million years old; heavy stars grow old as fast as that.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 4755": Saying(
        "The Jewel Box, a young open cluster in the Southern Cross", 6_400,
        "One red giant stands among blue ones, all about 14 million years old.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 6087": Saying(
        "An open cluster with a yellow star near its middle that beats", 3_000,
        "That star grows and shrinks once in about ten days, and from its beat its distance is "
        "known.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 6231": Saying(
        "A young, bright cluster at the Scorpion's tail", 5_000,
        "With the stars north of it, it looks to the bare eye like a comet with its tail.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 7789": Saying(
        "A rich, old open cluster in Cassiopeia", 6_800,
        "Caroline Herschel found it in 1783; its many faint stars lie in loops around dark gaps.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "IC 1396": Saying(
        "A young cluster in a very large, faint cloud of gas", 3_000,
        "The cloud takes a dark night; at its edge shines a star as red as a garnet, Mu Cephei.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "IC 2391": Saying(
        "One of the nearest open clusters, about the star Omicron Velorum", 490,
        "Its stars are some 50 million years old: the last dinosaurs had long died when they were "
        "born.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "IC 2602": Saying(
        "One of the nearest open clusters, the Pleiades of the south", 490,
        "Like the Pleiades it is seen without any telescope; it is wider than most eyepieces show.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "IC 2944": Saying(
        "A young cluster in a faint cloud of gas", 7_500,
        "Small dark clots of dust stand before the glow; large telescopes show them.",
    ),
    "IC 4665": Saying(
        "A wide, loose open cluster in the Serpent Bearer", 1_130,
        "The finder or binoculars show it best; in a field of high power it falls apart.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "Cr 399": Saying(
        "Ten stars that happen to draw a coat hanger", None,
        "They are no family: they stand at very different distances and only lie in one direction.",
    ),
    "Mel 25": Saying(
        "The Hyades, the nearest open cluster, the Bull's face", 153,
        "The bright orange star beside them is none of them: it stands less than half as far.",
    ),
    "Mel 111": Saying(
        "A wide near cluster, the hair of Queen Berenice", 280,
        "She gave it for her husband's safe return, it is told; the finder shows it best.",
        DistanceSource.MEMBER_PARALLAX,
    ),
}  # fmt: skip
