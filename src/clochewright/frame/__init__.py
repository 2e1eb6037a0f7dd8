"""The frame: from a shape to fittings and pipes in space, and the check that it closes."""

from clochewright.frame.bodies import Body, moving_bodies
from clochewright.frame.check import check_closure
from clochewright.frame.covers import covers, is_panel
from clochewright.frame.elastica import spring_hoop
from clochewright.frame.parts import Adjust, End, Fitting, Frame, HoopFacts, Pipe, Port, Vec
from clochewright.frame.raising import raise_frame

__all__ = [
    "Adjust",
    "Body",
    "End",
    "Fitting",
    "Frame",
    "HoopFacts",
    "Pipe",
    "Port",
    "Vec",
    "check_closure",
    "covers",
    "is_panel",
    "moving_bodies",
    "raise_frame",
    "spring_hoop",
]
