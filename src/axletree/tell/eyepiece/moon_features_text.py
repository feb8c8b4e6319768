"""What may be said of the Moon's best known features: what each is, what to look for at a low Sun?

From memory; what their sizes and neighbours say is checked against the list of features
(tests/tell/test_moon_features_words.py).
"""

from __future__ import annotations

# A sentence or two each, without the last full stop; by the name of the list.
FEATURE_WORDS = {
    "Sinus Iridum": "A flooded crater, half of its wall gone; at sunrise the curved wall shines "
    "like a handle out of the dark",
    "Sinus Medii": "The middle of the disc; look for the fine rilles at its edge",
    "Lacus Mortis": "A small plain with a crater in its middle and cracks across its floor",
    "Copernicus": "A young crater with terraced walls and a group of peaks in the middle; look "
    "for the chains of small pits it threw out around it",
    "Tycho": "One of the youngest large craters; look for its central peak now, for its bright "
    "rays near full Moon",
    "Plato": "A crater filled with dark lava; look for the jagged shadows of its wall on the "
    "smooth floor",
    "Clavius": "One of the largest craters that we see whole; count the smaller ones in it, "
    "which make a curved row from large to small",
    "Ptolemaeus": "A wide walled plain with a flat floor; low light shows shallow bowls and "
    "small pits in it",
    "Alphonsus": "A walled plain with a sharp peak in the middle; look for the small dark spots "
    "along its wall, ash of old eruptions",
    "Arzachel": "The freshest of a row of three large craters: terraced walls and a peak off the "
    "middle",
    "Theophilus": "A crater with a fine group of peaks; it has broken into its older neighbour "
    "Cyrillus",
    "Cyrillus": "An old crater whose wall its younger neighbour Theophilus has broken",
    "Catharina": "The oldest of a row of three craters; a worn ring covers part of its floor",
    "Archimedes": "A crater filled with lava to a flat floor, without a peak; look for the "
    "shadows of its wall on it",
    "Aristillus": "A young crater with a group of peaks; low light shows the ridges it threw out "
    "around it",
    "Autolycus": "The smaller of two neighbours beside Archimedes; compare its plain floor with "
    "the peaks of the other",
    "Eratosthenes": "A deep crater at the end of the Apennines; it is plain at a low Sun and "
    "hard to find at full Moon",
    "Kepler": "A small young crater; it has rays like those of Copernicus, on a smaller scale",
    "Aristarchus": "The brightest large spot of the whole Moon, a young crater; look for the "
    "dark bands that run up its inner wall",
    "Gassendi": "A crater with peaks and many cracks on its floor; a smaller crater has broken "
    "its wall in the north",
    "Langrenus": "A large crater near the edge with terraced walls and a twin peak",
    "Petavius": "A large crater with a mass of peaks; look for the straight crack from them to "
    "the wall",
    "Vendelinus": "An old, worn crater between Langrenus and Petavius; younger ones have broken "
    "its wall",
    "Furnerius": "An old worn crater near the edge, the last of a row of four along the sunrise "
    "of the young Moon",
    "Posidonius": "A crater with a flat, cracked floor at the shore of Mare Serenitatis; look "
    "for a second, lower wall inside it",
    "Hercules": "A crater with a dark floor and a sharp small pit on it; Atlas is its neighbour",
    "Atlas": "A crater with fine cracks and dark patches on its floor; Hercules is its neighbour",
    "Endymion": "A crater near the edge with a floor of dark lava, smooth as a lake",
    "Aristoteles": "A crater with terraced walls; look for the rows of hills that spread from it "
    "like ripples",
    "Eudoxus": "A deep crater with a rough floor, the smaller neighbour of Aristoteles",
    "Cassini": "A shallow ring filled with lava; two sharp small craters lie in it",
    "Albategnius": "An old crater with a plain floor and a peak; a younger crater sits on its wall",
    "Hipparchus": "A very old, worn crater; only low light shows that it is one",
    "Schickard": "A very large crater near the edge; look for dark and light stripes on its floor",
    "Wargentin": "A crater filled with lava to the brim, a flat table instead of a bowl; only a "
    "low Sun shows it",
    "Schiller": "A crater stretched like a footprint, probably several that ran together",
    "Grimaldi": "One of the darkest floors of the Moon, a small sea of lava in a worn ring near "
    "the edge",
    "Riccioli": "A large old crater at the very edge, partly filled with dark lava",
    "Hevelius": "A crater at the shore of the great ocean of lava; cracks cross on its floor",
    "Pitatus": "A flooded crater at the shore of Mare Nubium; look for a crack that runs along "
    "the inside of its wall",
    "Bullialdus": "A fine young crater alone in Mare Nubium: terraces, peaks, and ridges around it",
    "Maginus": "A very old crater that vanishes at full Moon; look how younger ones have eaten "
    "its wall",
    "Longomontanus": "A large old crater with a flat floor; its small peaks stand off the middle",
    "Walther": "An old crater with its peak far off the middle",
    "Purbach": "An old worn crater in the row south of Arzachel; a ridge crosses its floor",
    "Deslandres": "One of the largest craters we see, so worn that only a low Sun shows it as one",
    "Maurolycus": "A deep crater of the southern highlands, made of several that lie one over "
    "the other",
    "Janssen": "A very large, ruined crater; look for a curved crack across its floor",
    "Piccolomini": "A crater with a high peak, at the end of the long cliff Rupes Altai",
    "Fracastorius": "A bay that was a crater: the lava of Mare Nectaris has drowned its northern "
    "wall",
    "Messier": "Two small craters from one stone that came in very flat; two rays like a comet's "
    "tail run away from them",
    "Proclus": "A small, very bright crater; its rays go to all sides but one",
    "Cleomedes": "A large crater north of Mare Crisium; look for a forked crack on its floor",
    "Plinius": "A crater between two seas, as if on guard; look for two small peaks in it",
    "Triesnecker": "A small crater beside a whole net of fine cracks, a test for good air",
    "Hyginus": "A small pit without a raised wall, where the ground sank; a long crack runs "
    "through it",
    "Timocharis": "A crater alone on Mare Imbrium; a younger pit sits where its peak should be",
    "Pythagoras": "A deep crater near the edge, seen aslant; its peak is among the highest in "
    "any crater of this side",
    "Letronne": "A crater whose northern wall the lava has drowned; a few peaks show above it",
    "Vitello": "A crater at the shore of Mare Humorum, with a peak and a crack around it",
    "Moretus": "A deep crater near the south pole with a very high peak",
    "Lansberg": "A crater almost on the equator of the Moon, with a double peak",
    "Fra Mauro": "An old worn ring; people landed north of it in 1971",
    "Davy": "A small worn crater; beside it lies a row of tiny pits, a test for good air",
    "Thebit": "A crater with a smaller one on its wall, and a still smaller one on that one's; "
    "the Straight Wall is near",
    "Birt": "A small crater beside the Straight Wall, with one still smaller on its edge",
    "Gutenberg": "A crater with a broken wall and many cracks around it",
    "Goclenius": "A crater with a crack straight across its floor and a peak beside it",
    "Linné": "A tiny young crater in a bright patch; only large telescopes show the pit",
    "Le Monnier": "Half a crater: lava has drowned the wall towards Mare Serenitatis",
    "Gauss": "A very large crater at the very edge; the Moon has to nod this side to us",
    "Humboldt": "A very large crater at the very edge; the Moon has to nod this side to us",
    "Marius": "A crater in a field of low domes, old volcanoes, which only the lowest Sun shows",
    "Montes Apenninus": "The grandest mountains of the Moon, the edge of the basin of Mare "
    "Imbrium; their peaks rise some 5 km above the plain",
    "Montes Alpes": "Mountains at the edge of Mare Imbrium; look for the straight valley that "
    "cuts through them",
    "Montes Caucasus": "Mountains between two seas; their shadows reach far over the plain",
    "Montes Jura": "The curved wall of Sinus Iridum; at sunrise it shines out of the dark like a "
    "handle of gold",
    "Montes Carpatus": "Hills north of Copernicus, the south shore of Mare Imbrium",
    "Montes Riphaeus": "A small, narrow range of hills, left over when lava drowned the land",
    "Montes Recti": "A short straight range that stands alone in Mare Imbrium",
    "Montes Teneriffe": "A few lone peaks that stand out of Mare Imbrium, south of Plato",
    "Mons Pico": "A mountain alone on the plain south of Plato; look how long its shadow is, and "
    "how blunt the mountain itself",
    "Mons Piton": "A mountain alone on the plain of Mare Imbrium, with a long pointed shadow",
    "Mons Rümker": "A patch of low domes, old volcanoes; only a Sun near the horizon shows them",
    "Mons Hadley": "A peak of the Apennines; people landed at its foot in 1971",
    "Promontorium Laplace": "The eastern cape of Sinus Iridum, with a long shadow on the bay",
    "Promontorium Heraclides": "The western cape of Sinus Iridum",
    "Promontorium Agarum": "A cape at the shore of Mare Crisium",
    "Vallis Alpes": "A straight valley, some 10 km wide, where the ground sank between two cracks",
    "Vallis Schröteri": "The largest winding valley of the Moon, cut by lava; it begins at a pit "
    "beside Aristarchus",
    "Vallis Rheita": "A long valley made of craters that run together, thrown out when the basin "
    "of Mare Nectaris was made",
    "Rima Hyginus": "A crack with small pits along it, bent where it passes the crater Hyginus",
    "Rima Ariadaeus": "A long straight trench: a strip of ground sank between two cracks",
    "Rima Hadley": "A winding channel of lava at the foot of the Apennines; people drove to its "
    "edge in 1971",
    "Rupes Recta": "The Straight Wall: a slope over 100 km long and a few hundred metres high; "
    "dark in the morning by its own shadow, bright in the evening",
    "Rupes Altai": "A long curved cliff, a part of the outer ring of the basin of Mare Nectaris",
    "Rupes Cauchy": "A cliff and a crack side by side, with a small crater between; two low "
    "domes lie near by",
    "Dorsa Smirnov": "A winding ridge on Mare Serenitatis, where the lava was pressed together; "
    "only low light shows it",
}
