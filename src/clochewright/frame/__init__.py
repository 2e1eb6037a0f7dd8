"""The frame: from a shape to fittings and pipes in space, and the check that it closes."""

from clochewright.frame.check import check_closure
from clochewright.frame.parts import End, Fitting, Frame, Pipe, Port, Vec
from clochewright.frame.raising import raise_frame

__all__ = ["End", "Fitting", "Frame", "Pipe", "Port", "Vec", "check_closure", "raise_frame"]
