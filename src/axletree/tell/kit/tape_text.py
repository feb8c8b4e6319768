"""In which words is it told where the tape goes for one dimension?"""

from __future__ import annotations

from axletree.mount.dimensions.names import table_key

_TAPE = {
    "mount.tripod.foot_radius_mm": (
        "Along the ground from below the middle of the tripod to the middle of a foot, legs "
        "spread as you spread them at night."
    ),
    "mount.tripod.top_height_mm": (
        "Straight up from the ground to where the legs end below the head, legs drawn out as you "
        "draw them at night."
    ),
    "mount.tripod.top_radius_mm": "From the middle of the tripod's head to the hinge of a leg.",
    "mount.tripod.leg_radius_mm": "Measure how thick a leg is half-way down; take half of it.",
    "mount.tripod.column_radius_mm": "Measure how thick column or base is; take half of it.",
    "mount.tripod.column_height_mm": "From the top of the legs to the top of the column.",
    "mount.tripod.tray_height_mm": "Straight up from the ground to the tray.",
    "mount.tripod.tray_radius_mm": "From the middle of the tray to its farthest edge.",
    "mount.tripod.leg_directions_deg": (
        "Stand behind the mount facing the pole: the direction of the leg, clockwise from there, "
        "seen from above."
    ),
    "mount.tripod.turned_deg": (
        "No tape: sight along the leg that should point to the pole with a compass, and write how "
        "far it is turned clockwise from true north (south). 0 ± 2 where you set it by compass."
    ),
    "mount.tripod.lean_to_pole_deg": "A level or a phone laid on the tripod's head.",
    "mount.tripod.lean_to_right_deg": "A level or a phone laid on the tripod's head.",
    "mount.head.pivot_height_mm": (
        "From the top of legs or column straight up to the bolt about which the head tilts to the "
        "latitude."
    ),
    "mount.head.crossing_along_mm": (
        "Along the polar axis, from beside the tilting bolt to the middle of the declination "
        "housing, where both axes cross."
    ),
    "mount.head.crossing_above_mm": (
        "Square to the polar axis: from the tilting bolt's height up to the line of the axis."
    ),
    "mount.head.housing_back_mm": (
        "From where the axes cross down along the polar axis to the end of its housing."
    ),
    "mount.head.housing_front_mm": (
        "From where the axes cross up along the polar axis to the end of its housing."
    ),
    "mount.head.housing_radius_mm": "Measure how thick the polar housing is; take half of it.",
    "mount.head.declination_radius_mm": (
        "Measure how thick the declination housing is; take half of it."
    ),
    "mount.head.saddle_distance_mm": (
        "From the middle of the polar axis, along the declination axis, to the face of the saddle "
        "on which the dovetail lies."
    ),
    "mount.head.shaft_start_mm": (
        "From the middle of the polar axis, down the declination axis, to where weights can begin."
    ),
    "mount.head.shaft_length_mm": "The length of shaft on which weights can sit.",
    "mount.weight.radius_mm": "Measure across the weight; take half of it.",
    "mount.weight.thickness_mm": "Along the shaft, one face of the weight to the other.",
    "tube.length_mm": "Front end to back end, without dew shield and eyepiece.",
    "tube.diameter_mm": "Outside, across the tube; or its girth divided by 3.14.",
    "tube.balance_from_front_mm": (
        "Balancing shows it: with everything on the tube and the declination axis in balance, "
        "front end to the middle of the saddle. Write that with 'balanced' before it; what the "
        "bare tube's own point is follows."
    ),
    "tube.dovetail_height_mm": "From the face of the saddle to the wall of the tube.",
    "tube.dovetail_length_mm": "One end of the dovetail to the other.",
    "tube.focuser_from_front_mm": "Front end of the tube to the middle of the focuser.",
    "tube.focuser_reach_mm": "From the tube's axis out to the eyepiece's seat.",
    "tube.focuser_radius_mm": "Measure how thick the focuser is; take half of it.",
    "tube.finder.from_front_mm": "Front end of the tube to the middle of the finder.",
    "tube.finder.offset_mm": "From the tube's axis out to the finder's axis.",
    "tube.dew_shield_length_mm": "What of the dew shield stands out beyond the tube.",
    "tube.dew_shield_diameter_mm": "Outside, across the dew shield.",
}
_ELSE = "With tape or ruler; an error of 2 mm is good enough."
_WEIGHED = "On kitchen or luggage scales."


def tape_words(name: str) -> str:
    """Where the tape goes for a dimension of a dotted name."""
    return _TAPE.get(table_key(name), _WEIGHED if name.endswith("_kg") else _ELSE)
