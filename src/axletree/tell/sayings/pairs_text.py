"""What may be said of double stars? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import DistanceSource, Saying

PAIRS = {
    "24 Comae Berenices": Saying(
        "An orange giant with a bluish companion", 450,
        "It is one of the fine pairs for spring, and easy with low power.",
        DistanceSource.STAR_PARALLAX,
    ),
    "32 Camelopardalis": Saying(
        "Two white stars near the pole", 583,
        "They stand so near the pole that they cross the field slowly: nobody has to hurry.",
        DistanceSource.STAR_PARALLAX,
    ),
    "32 Eridani": Saying(
        "A yellow giant with a bluish companion", 313,
        "The colours show best a little out of focus.",
        DistanceSource.STAR_PARALLAX,
    ),
    "36 Ophiuchi": Saying(
        "Two orange suns, smaller than ours", 19,
        "A third one, far outside the field, travels with them.",
        DistanceSource.STAR_PARALLAX,
    ),
    "61 Cygni": Saying(
        "Two orange suns, smaller than ours", 11.4,
        "In 1838 it was the first star whose distance was measured, by Friedrich Bessel.",
        DistanceSource.STAR_PARALLAX,
    ),
    "70 Ophiuchi": Saying(
        "Two near suns, smaller and more orange than ours", 17,
        "They circle each other in 88 years.",
        DistanceSource.STAR_PARALLAX,
    ),
    "8 Lacertae": Saying(
        "A blue-white pair with more stars in a row beside it", None,
        "Count how many stand in the same field.",
    ),
    "94 Aquarii": Saying(
        "A yellow sun with an orange companion", 69,
        "The brighter one is itself two stars that no small telescope parts.",
        DistanceSource.STAR_PARALLAX,
    ),
    "95 Herculis": Saying(
        "Two stars of equal brightness and unlike colour", 417,
        "People in the nineteenth century saw one green and one red; say what you see.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Acamar": Saying(
        "Two white stars where the river Eridanus once ended in the sky", 161,
        "Peoples of the Mediterranean saw no farther south; only later the river was drawn on to "
        "Achernar.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Achird": Saying(
        "A sun much like ours with a small orange-red companion", 19,
        "They circle each other in some 480 years.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Acrab": Saying(
        "A blue-white pair at the Scorpion's claw", 404,
        "With all that is too close to see, five or six stars belong together here.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Acrux": Saying(
        "The brightest star of the Southern Cross, two hot blue stars", 320,
        "Each shines thousands of times as bright as the Sun.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Albireo": Saying(
        "A golden star with a blue one beside it", 430,
        "Nobody is sure yet whether the two belong together or only stand in one line.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Algieba": Saying(
        "Two orange giants that circle each other in over 500 years", 130,
        "A planet heavier than Jupiter was found at the brighter one.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Algorab": Saying(
        "A star of the Crow with a faint orange companion", 87,
        "The companion is hard to see in the glare of the brighter star; wait for a steady moment.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Almach": Saying(
        "An orange giant with a blue companion", 390,
        "The blue star is itself three stars, too close for small telescopes.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Alnitak": Saying(
        "The eastern star of Orion's belt, a close pair of blue giants", 740,
        "The brighter one shines tens of thousands of times as bright as the Sun.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Alya": Saying(
        "Two white stars, alike as twins", 155,
        "They lie at the tail of the Serpent, before the Milky Way.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Antares": Saying(
        "A red giant, the heart of the Scorpion", 550,
        "In the Sun's place it would reach beyond the path of Mars.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Castor": Saying(
        "Two white stars that circle each other in about 450 years", 51,
        "Six stars in all belong together here: three pairs.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Cor Caroli": Saying(
        "A white star with a fainter companion", 115,
        "Its brighter star is strongly magnetic, and others of its kind are named after it.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Double Double": Saying(
        "Two stars to the finder, four to the telescope", 162,
        "All four belong together, though the two pairs take many thousands of years about each "
        "other.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Dziban": Saying(
        "A wide yellow pair in the Dragon", 74,
        "They are suns a little larger and hotter than ours.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Izar": Saying(
        "An orange giant with a white companion close by", 200,
        "An astronomer of the 1820s named it after its beauty: the most beautiful one.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Kuma": Saying(
        "Two white stars, the Dragon's eyes", 99,
        "Sharp eyes part them with steady binoculars; they are as like as stars can be.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Kurhah": Saying(
        "A white star with a bluish-looking companion", 97,
        "It lies in the middle of King Cepheus; some see the fainter one reddish: say what you "
        "see.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Meissa": Saying(
        "The head of Orion, a close pair of hot stars", 1_100,
        "It lights a vast ring of gas that only cameras show.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mesarthim": Saying(
        "Two white stars that look alike as twins", 164,
        "Robert Hooke found the pair by chance in 1664, when he followed a comet.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mintaka": Saying(
        "A star of Orion's belt, with a wide companion", 690,
        "It stands almost exactly over the Earth's equator, so it rises due east everywhere.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Miram": Saying(
        "An orange giant with a small blue companion", 880,
        "The blue one is fainter by far, and only looks so blue beside the orange one.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Mizar": Saying(
        "The middle star of the Bear's tail, with a companion", 86,
        "In 1650 it was one of the first stars seen double in a telescope, and each of the two is "
        "double again.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Polaris": Saying(
        "The pole star, a yellow giant with a faint companion", 430,
        "It beats like a heart: every four days it grows a little larger and smaller.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Porrima": Saying(
        "Two white stars, alike as twins", 38,
        "They circle each other in some 170 years; about 2005 they stood so close that few "
        "telescopes parted them.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Rasalgethi": Saying(
        "A red giant with a companion that looks green", 360,
        "No star is green: the eye makes it so beside the red one.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Rigel": Saying(
        "A blue giant with a small companion in its glare", 860,
        "It shines tens of thousands of times as bright as the Sun.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Rigil Kentaurus": Saying(
        "The nearest bright neighbours of the Sun, two suns much like ours", 4.3,
        "They circle each other in 80 years.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Sheliak": Saying(
        "A star that is eclipsed every 13 days, with wide companions", 960,
        "Two stars circle so close that they touch, and one pours its gas over to the other.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Tegmine": Saying(
        "Three yellow suns", 82,
        "The closer two circle each other in about 60 years; a quiet night parts them.",
        DistanceSource.STAR_PARALLAX,
    ),
    "Trapezium": Saying(
        "Four young stars in the heart of Orion's cloud", 1_350,
        "They are perhaps a million years old, and nearly all the cloud's light is their doing.",
    ),
    "Winter Albireo": Saying(
        "An orange star with a blue one, a rare contrast of colours", None,
        "The two probably only stand in one line, one far behind the other.",
    ),
    "Xi Ursae Majoris": Saying(
        "Two suns like ours, close together", 29,
        "In 1828 it was the first pair whose path round each other was reckoned: some 60 years.",
    ),
    "f Eridani": Saying(
        "Two white stars", 165,
        "They were born together with a few dozen others that still travel with them.",
        DistanceSource.STAR_PARALLAX,
    ),
    "k Puppis": Saying(
        "Two blue-white stars, alike as twins", 347,
        "The bare eye sees them as one.",
        DistanceSource.STAR_PARALLAX,
    ),
    "p Eridani": Saying(
        "Two orange suns, smaller than ours", 26,
        "They circle each other in about 480 years.",
        DistanceSource.STAR_PARALLAX,
    ),
    "β Monocerotis": Saying(
        "Three blue-white stars close together", 680,
        "William Herschel called it one of the most beautiful sights in the heavens.",
        DistanceSource.STAR_PARALLAX,
    ),
    "β¹ Tucanae": Saying(
        "A wide pair of blue-white stars", 135,
        "Each is double again, too close for most telescopes; several stars travel together here.",
        DistanceSource.STAR_PARALLAX,
    ),
    "γ² Delphini": Saying(
        "A golden star with a paler one, the Dolphin's nose", 126,
        "Some see the fainter one greenish; say what you see.",
        DistanceSource.STAR_PARALLAX,
    ),
    "γ² Velorum": Saying(
        "A blue giant with the brightest of the Wolf-Rayet stars, and wide companions", 1_120,
        "That star blows its own outer layers into space, and will explode one day.",
        DistanceSource.STAR_PARALLAX,
    ),
    "δ Cephei": Saying(
        "A yellow giant that beats once in five days, with a blue companion", 865,
        "Stars of its kind, named after it, are the milestones by which distances to galaxies are "
        "measured.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ε Monocerotis": Saying(
        "A white star with a fainter companion", 122,
        "The field around it is full of stars of the Milky Way.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ε² Lyrae": Saying(
        "One half of the Double Double: two white stars close together", 156,
        "The other half stands beside it in the same field, and is a close pair, too.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ζ Aquarii": Saying(
        "Two white stars close together", 92,
        "They circle each other in some 500 years, and they are slowly opening.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ζ¹ Lyrae": Saying(
        "A wide pair beside Vega", 156,
        "The lowest power parts it, so it is a good first double star.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ι Cancri": Saying(
        "A yellow giant with a bluish companion", 330,
        "Its colours are like Albireo's, but the stars stand closer.",
        DistanceSource.STAR_PARALLAX,
    ),
    "κ² Bootis": Saying(
        "A white pair near the Great Bear's tail", 163,
        "Another pair, wide and uneven, stands close by: Iota Bootis.",
        DistanceSource.STAR_PARALLAX,
    ),
    "μ¹ Crucis": Saying(
        "Two blue-white stars beside the darkest cloud of the southern sky", 414,
        "The dark cloud is dust that hides the Milky Way behind it; the bare eye sees it.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ξ Bootis": Saying(
        "A yellow sun with an orange one", 22,
        "They circle each other in some 150 years, and are much younger than our Sun.",
        DistanceSource.STAR_PARALLAX,
    ),
    "σ Orionis": Saying(
        "A family of hot young stars; four or five show in one field", 1_070,
        "Its brightest star lights the faint glow before which the Horsehead stands.",
        DistanceSource.STAR_PARALLAX,
    ),
    "ψ¹ Piscium": Saying(
        "A wide pair of white stars", 275,
        "They lie in a string of stars that all bear the name Psi.",
        DistanceSource.STAR_PARALLAX,
    ),
}  # fmt: skip
