"""Plans that the tests of this room begin with."""

from __future__ import annotations

from pathlib import Path

SMALL = '[bed]\nlength = "8 ft"\nwidth = "3 ft 10 in"\n'

FULL = """\
name = "Sorrel Yard, Bed 2"   # as the row calls it
units = "mm"
question = "stays-out"
people = 2

[bed]
length = "2400 mm"
width = "1.1 m"
measured = "inside"
board = "38 mm"
height = "300 mm"
timber = "larch"

[cover]
shape = "tent"
line = "middle"
apex = "butted"
pitch = "30 deg"
bay = "1 m"
bents = 3
braces = "none"
end_inset = "25 mm"

# how they sit
[joints]
seat = "home"

[[joints.seats]]
role = "ridge"
seat = "dry"

[stock]
sticks = ["3 m", "4 m"]
on_hand = [{ length = "900 mm", count = 2 }, { length = "1.2 m" }]
kerf = "3 mm"

[car]
inside_length = "2.1 m"

[own]

[[own.pipes]]
size = "32 grey"
outside_diameter = "32 mm"
wall = "2.4 mm"
sticks = ["3 m"]
price = "€4.20"

# the tees
[[own.fittings]]
kind = "tee"
centre_to_stop = "20 mm"
socket_depth = "22 mm"

[[own.fittings]]
kind = "elbow-45"
hub = "41 mm"
bend = "44.5 deg"
"""

EXAMPLES = Path(__file__).parents[2] / "examples"
