"""A design that uses every key of surfaces, bodies, motors, servos and dowels: to be read, not to be built."""

AIRFRAME = '''
format = 1

[plan]
name = "airframe"

[sketch]
units = "mm"
scale = 6

[sizes]
half_span = 92
root_chord = 34
tip_chord = 27

[cutting]
fit = "0.2 mm"
kerf = "0.1 mm"

[stock.board]
material = "paper-faced foam board"
thickness = "5 mm"
margin = "4 mm"
sheets = [ { size = "500 x 350 mm" }, { size = "700 x 500 mm", on_hand = 2 } ]

[stock.ply]
material = "birch plywood"
thickness = "1.5 mm"
sheets = [ { size = "300 x 200 mm" } ]

[stock.card]
material = "card"
thickness = "0.4 mm"
sheets = [ { size = "297 x 210 mm" } ]

[surface.wing]
role = "wing"
build = "folded"
stock = "board"
at = [40, 9]
span = "2 * half_span"
root_chord = "root_chord"
tip_chord = "tip_chord"
tip_back = 1
angle = 1
dihedral = "2 deg"
over_spar = "bent"
nose = "two skins"
nose_height = "10 mm"
nose_band = "10.5 mm"
trailing_edge = "single"
trim = "4 mm"
closest_bend = 9
balance = "27 %"
patches = "card"
spar = { layers = 3, width = "25 mm", behind_leading_edge = "36 mm", run = "follow", stock = "card", tip_layers = 2, tip_width = "18 mm" }
joiner = { stock = "ply", count = 1, length = "160 mm" }
aileron = { from = 46, to = 88, chord = 8, throw = 20, horn = "ply" }

[surface.plank]
role = "wing"
build = "flat"
stock = "board"
at = [10, 20]
stations = [ { out = 0, chord = 30 }, { out = 40, back = 2, chord = 28, dihedral = 6 }, { out = 60, back = 6, chord = "20 mm * scale / 6" } ]
elevon = { from = "30 mm", to = 50, chord = "0.2 * root_chord", throw = "15 deg", horn = "ply" }

[surface.tail]
role = "stabiliser"
stock = "board"
at = [128, 9]
span = 36
root_chord = 14
tip_height = "9 mm"
elevator = { from = 1, to = 17, chord = 4, throw = 20, horn = "ply" }

[surface.fin]
role = "fin"
stock = "board"
at = [126, 12]
span = 16
root_chord = 16
tip_chord = 10
tip_back = 4
rudder = { from = 1, to = 15, chord = 5, throw = 25, horn = "ply" }

[body.fuselage]
stock = "board"
width = "62 mm"
corners = "mitred"
side = """
# along, bottom, top      one reading of the ruler a line
  0,     2,      4;  8, 0, 14
  64,    2,      14
  144,   max(6, 12 mm), 11       # the tail
"""
formers = [ { at = 10 }, { at = 38, opening = [7, "30 mm"], stock = "ply" } ]
deck = { top = [76, 144] }
hatch = [10, 38]
build = "trough"
nose_doubler = [0, 38]
straps = [19, "162 mm"]
cooling = { in = [4, 8], out = [100, 6] }
pushrods = [[120, 10], [122, 8]]
keep_clear = [[40, 74], [100, 110]]
doubler = { overlap = "60 mm", inset = "6 mm", taper = "20 mm", stock = "card" }

[body.pod]
stock = "card"
width = 8
side = [[0, 1, 3], [30, "1 mm", 4]]

[motor.wing]
out = 27
ahead = "40 mm"
firewall = { stock = "ply", width = "45 mm", height = "40 mm", screws = "19 mm" }
propeller = { diameter = "8 in", pitch = "4 in", blades = 2, turns = "inwards", mass = "9 g" }
thrust = { outwards = 1, down = "2 deg" }
nacelle = { width = "50 mm", length = 12 }
mass = "52 g"
power = "180 W"
speed_constant = "1100 rpm/V"
current_limit = "20 A"

[motor.middle]
on = "plank"
clearance = "25 mm"
ahead = "30 mm"
firewall = { stock = "ply", width = "45 mm" }
propeller = { diameter = "150 mm" }

[motor.nose]
on = "pod"
ahead = "15 mm"
at = [0, 2]
firewall = { stock = "ply", width = "35 mm" }
propeller = { diameter = "9 in", blades = 3, turns = "right" }
thrust = { right = 2, down = 3 }

[[servo]]
drives = "rudder"
on = "fuselage.deck"
at = [112, 0]
size = "23 x 12 mm"
mass = "9 g"
lead = "250 mm"

[[servo]]
drives = "aileron"
on = "wing"
at = [60, 40]
size = "23 x 12 mm"

[[dowel]]
on = "fuselage"
at = [[36, 7], [78, 7]]
diameter = "6 mm"
proud = "12 mm"
'''
