"""What may be said of double and coloured stars?

Distances from the parallaxes of Hipparcos (van Leeuwen 2007), which the catalogue holds; facts from
memory.
"""

from __future__ import annotations

from axletree.tell.sayings.saying import Saying

STARS = {
    "Albireo": Saying(
        "A golden star with a blue one beside it", 430,
        "Nobody is sure yet whether the two belong together or only stand in one line.",
    ),
    "Mizar": Saying(
        "The middle star of the Bear's tail, with a companion", 86,
        "In 1650 it was one of the first stars seen double in a telescope, and each of the two is "
        "double again.",
    ),
    "Almach": Saying(
        "An orange giant with a blue companion", 390,
        "The blue star is itself three stars, too close for small telescopes.",
    ),
    "Castor": Saying(
        "Two white stars that circle each other in about 450 years", 51,
        "Six stars in all belong together here: three pairs.",
    ),
    "Algieba": Saying(
        "Two orange giants that circle each other in over 500 years", 130,
        "A planet larger than Jupiter was found at the brighter one.",
    ),
    "Cor Caroli": Saying(
        "A white star with a fainter companion", 115,
        "Its brighter star is strongly magnetic, and others of its kind are named after it.",
    ),
    "Acrux": Saying(
        "The brightest star of the Southern Cross, two hot blue stars", 320,
        "Each shines thousands of times as bright as the Sun.",
    ),
    "Rigil Kentaurus": Saying(
        "The nearest bright neighbours of the Sun, two suns much like ours", 4.3,
        "They circle each other in 80 years.",
    ),
    "Izar": Saying(
        "An orange giant with a white companion close by", 200,
        "An astronomer of the 1820s named it after its beauty: the most beautiful one.",
    ),
    "Polaris": Saying(
        "The pole star, a yellow giant with a faint companion", 430,
        "It beats like a heart: every four days it grows a little larger and smaller.",
    ),
    "Rigel": Saying(
        "A blue giant with a small companion in its glare", 860,
        "It shines tens of thousands of times as bright as the Sun.",
    ),
    "Antares": Saying(
        "A red giant, the heart of the Scorpion", 550,
        "In the Sun's place it would reach beyond the path of Mars.",
    ),
    "Betelgeuse": Saying(
        "A red giant at Orion's shoulder", 500,
        "In 2019 a cloud of its own dust dimmed it so much that everybody could see it.",
    ),
    "Vega": Saying(
        "A white star, twice as heavy as the Sun", 25,
        "It turns so fast that it is flattened, and we look down on one of its poles.",
    ),
    "Arcturus": Saying(
        "An orange giant, 25 times as wide as the Sun", 37,
        "It moves so fast that since the time of the Romans it has gone more than two Moon's "
        "widths.",
    ),
    "Aldebaran": Saying(
        "An orange giant, the Bull's eye", 67,
        "The cluster around it stands more than twice as far away.",
    ),
    "Sirius": Saying(
        "The brightest star of the night", 8.6,
        "Its companion is a burnt-out star as heavy as the Sun and as small as the Earth.",
    ),
    "Capella": Saying(
        "Two yellow giants so close that no small telescope parts them", 43,
        "They circle each other in 104 days.",
    ),
    "Deneb": Saying(
        "A white giant at the tail of the Swan", 1_400,
        "It is among the farthest stars of the first magnitude; its distance is poorly known.",
    ),
    "Altair": Saying(
        "A white star, one of our near neighbours", 17,
        "It turns once in about nine hours, and it is wider than it is high.",
    ),
}  # fmt: skip
