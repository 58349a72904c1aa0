"""Every tolerance of the program, mm, each with its reason.  No other file has one of its own."""

#: vertices of an arc lie on it and chords stay this close: a twentieth of what a knife can follow
CHORD_MM = 0.005
#: decimals of a coordinate, mm: a nanometre, finer than any machine and coarse enough to repeat
PLACES = 6
#: a vertex this close to a circle lies on it: a chord's sag and one rounding
ON_CIRCLE_MM = 0.0055
#: two points this close are one: below a tenth of the finest pencil line
SAME_POINT_MM = 0.001
#: a tab's middle this close to the outline lies on it
ON_EDGE_MM = 0.01
#: the narrowest slot that can be cut with two passes of a knife
NARROWEST_SLOT_MM = 0.2
#: placed pieces may be this much closer than margin and gap say: a thousand nanometres of rounding
PLACED_MM = 0.001
#: area of a part below which nothing can be cut, mm2
SMALLEST_AREA_MM2 = 1.0
