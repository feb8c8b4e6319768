"""What may be said of nebulae? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

NEBULAE = {
    "M1": Saying(
        "What is left of a star that exploded", 6_500,
        "In 1054 it shone so bright that people in China saw it by day.",
    ),
    "M8": Saying(
        "A cloud of gas in which stars are born", 4_100,
        "The young cluster in it has already lit and blown away the gas around it.",
    ),
    "M16": Saying(
        "A young cluster in its cloud of gas, the Eagle", 5_700,
        "In 1995 a picture of the dark pillars in it, where stars are born, went round the world.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M17": Saying(
        "A bright cloud of gas shaped like a swan", 5_500,
        "Hidden behind its dust is one of the youngest clusters we know, a million years old.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M20": Saying(
        "A cloud of glowing gas that dust cuts in three", 4_100,
        "It glows red where hot stars light the gas, and blue where dust throws back their light.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M27": Saying(
        "The gas that a dying star has blown off", 1_250,
        "It was the first of its kind to be found, in 1764.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M42": Saying(
        "The nearest large cloud of gas in which stars are born", 1_350,
        "Four hot young stars in its middle make it glow; the eye sees them with little power.",
    ),
    "M43": Saying(
        "A part of the great cloud of Orion, cut off by a lane of dust", 1_350,
        "A single hot star in its middle makes it glow.",
    ),
    "M57": Saying(
        "A ring of gas that a dying star has blown off", 2_500,
        "The Sun may leave something like it behind, in five thousand million years or more.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "M76": Saying(
        "A small cloud of gas that a dying star has blown off", 2_500,
        "It is one of the faintest objects of Messier's list.",
    ),
    "M78": Saying(
        "A cloud of dust that throws back the light of young stars within", 1_350,
        "Two of those stars shine through it like a pair of eyes in fog.",
    ),
    "M97": Saying(
        "A round cloud of gas in which large telescopes show an owl's two eyes", 2_600,
        "It has grown for some 8,000 years, and it will have thinned out and gone in a few ten "
        "thousand more.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 1535": Saying(
        "A small round cloud of gas about a dying star", 4_000,
        "Its pale blue disc has a brighter ring within; try the highest power.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 2070": Saying(
        "A giant cloud of gas in our neighbour, the Large Magellanic Cloud", 160_000,
        "Were it as near as the cloud of Orion, it would throw shadows at night.",
    ),
    "NGC 2237": Saying(
        "A ring of glowing gas about a young cluster, the Rosette", 5_000,
        "The cluster shows at once; the ring takes a dark night and the lowest power.",
    ),
    "NGC 2392": Saying(
        "A round cloud of gas about a dying star", 6_500,
        "Its star can be seen in a small telescope as a point in the middle.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3132": Saying(
        "A ring of gas that a dying star has blown off", 2_500,
        "The bright star in its middle is not the one that made it: that is a faint one beside it.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3242": Saying(
        "A cloud of gas about a dying star, nearly as wide in the sky as Jupiter", 4_800,
        "Its pale blue-green is the light of oxygen.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3372": Saying(
        "One of the largest clouds of glowing gas of our Milky Way", 7_500,
        "In 1843 a star in it flared up to be the second brightest of the whole sky.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 3918": Saying(
        "A small blue cloud of gas about a dying star", 5_000,
        "It looks so much like the planet Uranus that only its place gives it away.",
    ),
    "NGC 6210": Saying(
        "A small bright cloud of gas about a dying star", 6_500,
        "At low power it is a star that will not come to a point; raise the power and it is a "
        "disc.",
    ),
    "NGC 6543": Saying(
        "A small bright cloud of gas about a dying star", 4_500,
        "In 1864 its light was the first that showed a nebula to be gas and not stars.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 6572": Saying(
        "A small, very bright cloud of gas about a dying star", 5_000,
        "It is one of the greenest things in the sky, the light of oxygen.",
    ),
    "NGC 6818": Saying(
        "A small round cloud of gas about a dying star", 5_500,
        "A faint galaxy nearby belongs to our own group; it takes a dark night and a large tube.",
    ),
    "NGC 6826": Saying(
        "A round cloud of gas about a dying star", 4_500,
        "Stare at its star and the cloud seems to vanish; look beside it and it is back.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 6960": Saying(
        "A piece of the blast of a star that exploded", 2_400,
        "The star before it, 52 Cygni, has nothing to do with it; it is much nearer.",
    ),
    "NGC 6992": Saying(
        "A piece of the blast of a star that exploded", 2_400,
        "The star burst some ten or twenty thousand years ago; the whole bubble is six Moons wide.",
    ),
    "NGC 7000": Saying(
        "A great cloud of gas in the shape of North America", 2_600,
        "It is best in binoculars under a dark sky: most telescopes show only a part of it.",
    ),
    "NGC 7009": Saying(
        "A small greenish cloud of gas about a dying star", 3_700,
        "Large telescopes show two handles on it, like Saturn's rings seen edge-on.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 7293": Saying(
        "One of the nearest clouds of gas about a dying star", 650,
        "It is nearly as wide in the sky as the Moon, but so thin that it needs a dark night.",
        DistanceSource.MEMBER_PARALLAX,
    ),
    "NGC 7662": Saying(
        "A small blue-green cloud of gas about a dying star", 5_600,
        "The star in its middle is over 70,000 degrees hot.",
    ),
}  # fmt: skip
