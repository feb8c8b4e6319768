"""What may be said of single stars, bright or deep in colour? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

STARS = {
    "19 Piscium": Saying(
        "A deep red star", 900,
        "Its air is full of carbon, which takes the blue light; look at it a little out of focus.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Achernar": Saying(
        "A hot blue star at the end of the river Eridanus", 139,
        "It turns so fast that it is about half as wide again as high, the flattest of all bright "
        "stars.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Aldebaran": Saying(
        "An orange giant, the Bull's eye", 67,
        "The cluster around it stands more than twice as far away.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Alphard": Saying(
        "An orange giant, the heart of the Water Snake", 180,
        "Its name means the lonely one: no bright star is near it.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Altair": Saying(
        "A white star, one of our near neighbours", 17,
        "It turns once in about nine hours, and it is wider than it is high.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Arcturus": Saying(
        "An orange giant, 25 times as wide as the Sun", 37,
        "It moves so fast that since the time of the Romans it has gone more than two Moon's "
        "widths.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Betelgeuse": Saying(
        "A red giant at Orion's shoulder", 500,
        "In 2019 a cloud of its own dust dimmed it so much that everybody could see it.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Canopus": Saying(
        "The second brightest star of the night", 310,
        "It shines ten thousand times as bright as the Sun, and space probes steer by it.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Capella": Saying(
        "Two yellow giants so close that no small telescope parts them", 43,
        "They circle each other in 104 days.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Crimson Star": Saying(
        "A star as red as a drop of blood", None,
        "Soot in its air takes all but the red light; it fades and brightens within about 14 "
        "months.",
    ),
    "Deneb": Saying(
        "A white giant at the tail of the Swan", 1_400,
        "It is among the farthest stars of the first magnitude; its distance is poorly known.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Fomalhaut": Saying(
        "A white star, the lonely bright one of the autumn", 25,
        "A ring of dust lies about it, far wider than the paths of our planets.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Gacrux": Saying(
        "The red giant at the top of the Southern Cross", 89,
        "It is the nearest of all red giants.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Garnet Star": Saying(
        "A red giant, one of the largest stars that are known", None,
        "In the Sun's place it would reach far beyond Mars, perhaps to Jupiter.",
    ),
    "La Superba": Saying(
        "A star red with soot", 1_050,
        "Carbon in its air takes the blue light; an astronomer named it the superb one for its "
        "colour.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mimosa": Saying(
        "A hot blue star of the Southern Cross", 280,
        "A deep red star, faint and lovely, stands close beside it in the same field.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mira": Saying(
        "A red giant that swells and fades", 299,
        "In 1596 it was the first star seen to change; at its best the bare eye finds it, then it "
        "is lost for months.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mirach": Saying(
        "A red giant in Andromeda", 197,
        "A small round galaxy hides in its glare; with good eyes and a dark night it shows as a "
        "smudge.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Pollux": Saying(
        "An orange giant, the nearest of its kind", 34,
        "A planet heavier than Jupiter goes round it in a year and a half.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Procyon": Saying(
        "A white-yellow star, one of our nearest neighbours", 11.4,
        "Like Sirius it has a burnt-out companion as small as the Earth.",
        DistanceSource.STAR_PARALLAX,
    ),
    "R Doradus": Saying(
        "A red giant in the far south", 178,
        "Seen from the Earth it is wider than any other star but the Sun.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Regulus": Saying(
        "A hot white star, the Lion's heart", 79,
        "It turns so fast, in 16 hours, that it is much wider than high.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Sirius": Saying(
        "The brightest star of the night", 8.6,
        "Its companion is a burnt-out star as heavy as the Sun and as small as the Earth.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Spica": Saying(
        "A hot blue star in the Virgin", 250,
        "It is two stars that race round each other in four days, too close to be parted.",
        DistanceSource.STAR_PARALLAX,
    ),
    "T Lyrae": Saying(
        "One of the reddest stars of the northern sky", None,
        "It is faint: look at it a little out of focus, and compare it with Vega near by.",
    ),
    "U Hydrae": Saying(
        "A deep red star", 680,
        "Carbon in its air makes it so red, and it has blown a shell of dust about itself.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Vega": Saying(
        "A white star, twice as heavy as the Sun", 25,
        "It turns so fast that it is flattened, and we look down on one of its poles.",
        DistanceSource.STAR_PARALLAX,
    ),
    "W Orionis": Saying(
        "A deep red star, one of the reddest near the bright ones of Orion", None,
        "Carbon, the stuff of soot, makes it so red; a little out of focus the colour shows best.",
    ),
}  # fmt: skip
