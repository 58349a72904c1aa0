"""Every tolerance of the program, mm, each with its reason.  No other file has one of its own."""

#: vertices of an arc lie on it and chords stay this close: a twentieth of what a knife can follow
CHORD_MM = 0.005
#: decimals of a coordinate, mm: a nanometre, finer than any machine and coarse enough to repeat
PLACES = 6
#: a vertex this close to a circle lies on it: a chord's sag and one rounding
ON_CIRCLE_MM = 0.0055
#: a vertex may lie this far outside its circle: the roundings of vertex, centre and radius, moved twice
OUTSIDE_CIRCLE_MM = 0.00001
#: a point this close to the line through its neighbours is on it, two ends this close meet: one rounding
ROUNDING_MM = 0.000001
#: bits of an operation's result that are thinner than this are the rounding of corners, not material
DUST_MM = 0.000001
#: two points this close are one: below a tenth of the finest pencil line
SAME_POINT_MM = 0.001
#: a tab's middle this close to the outline lies on it
ON_EDGE_MM = 0.01
#: the narrowest slot that can be cut with two passes of a knife
NARROWEST_SLOT_MM = 0.2
#: two cuts of one fold that lie closer are one cut: half of what a knife can set off
CLOSEST_CUTS_MM = 0.1
#: less material than this between two cuts tears when it is cut: common practice, no source
NARROW_WEB_MM = 1.0
#: a slot narrower than this wants a note: under three times the thickness of a thin blade
THIN_SLOT_MM = 0.5
#: what a builder may add to a slot: a tenth of a board's thickness either way is usual, this is the limit
LOWEST_FIT_MM, HIGHEST_FIT_MM = -1.0, 3.0
#: points of a part, holes included: far more than a builder reads off a sketch, few enough to be quick
MOST_POINTS = 20_000
#: no coordinate of a part is larger: two hundred of the largest sheets in a row
FARTHEST_MM = 1_000_000.0
#: placed pieces may be this much closer than margin and gap say: a thousand nanometres of rounding
PLACED_MM = 0.001
#: area of a part below which nothing can be cut, mm2
SMALLEST_AREA_MM2 = 1.0
#: lines of one roll: a metre of it scored at every millimetre
MOST_ROLL_LINES = 1_000
#: directions whose cross product is smaller are parallel: a hundredth of a millimetre over the largest sheet
PARALLEL = 0.000002
#: two ways to move an outline outwards may differ by this much: a tenth of the finest kerf
OFFSET_MM = 0.01
#: folded panels that pass through each other by no more touch: what foam gives way
CLASH_MM = 0.05
#: edges of folded panels that are no farther apart meet: what glue fills
MEETS_MM = 0.3
#: edges of folded panels farther apart than so many thicknesses are not meant to meet: slips are one or two
NEAR_THICKNESSES = 2.5
#: edges of folded panels that lean more to each other than this are not meant to meet, degrees: a rake read
#: off the sketch wrongly, or a turn that is 5 degrees out, lean less; walls that spread on purpose more
EDGES_LEAN_DEG = 8.0
#: folded panels that lean less to each other stand side by side or in one plane and make no corner, degrees
PANELS_LEAN_DEG = 30.0
#: edges that start within so many thicknesses of each other, and the mitre, start at one corner of the flat
#: part: a relief hole, or a wall that ends a thickness sooner, lies between
CORNER_THICKNESSES = 2.0
#: a corner whose folds would have to turn by more degrees to close was not meant to: lips and funnels
CORNER_TURN_DEG = 30.0
#: shorter straight edges are corners, or chords of an arc
SHORT_EDGE_MM = 3.0
#: edges and folds of two versions of a part that lie no farther apart agree: half of the millimetre that
#: builders hope for at edges, and as straight as they hope for at hinges (common practice, no source)
EDGES_AGREE_MM = 0.5
#: marks of two versions that lie no farther apart agree: what is glued along a line lies no better (common
#: practice, no source)
MARKS_AGREE_MM = 1.0
#: slots and tabs of two versions that lie no farther apart agree: builders hope for 0.3 to 0.5 mm (common
#: practice, no source)
CUTS_AGREE_MM = 0.3
#: angles of two versions that differ by no more agree, degrees: what builders hope for (common practice)
ANGLES_AGREE_DEG = 1.0
#: boards whose thickness differs by no more are alike: what a caliper repeats on foam (common practice)
THICKNESS_AGREES_MM = 0.1
