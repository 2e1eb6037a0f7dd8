"""Drawings: views of the frame and cutting diagrams as marks on paper, and their writers."""

from clochewright.drawings.build_steps import draw_build_steps
from clochewright.drawings.dxf import write_dxf
from clochewright.drawings.lettering import FAMILY, FONT_FILES, FONT_FOLDER, text_width_mm
from clochewright.drawings.loaded import LOADED_NAMES, draw_loaded
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.members import BedBox
from clochewright.drawings.of_build import draw_build
from clochewright.drawings.of_job import DRAWERS, draw_job, group_of
from clochewright.drawings.of_lid import draw_lid
from clochewright.drawings.packing import draw_packing
from clochewright.drawings.pattern import draw_pattern
from clochewright.drawings.pattern_points import PatternPoint, pattern_points, what_is_alike
from clochewright.drawings.season import draw_season
from clochewright.drawings.step_scene import BuildPictures
from clochewright.drawings.stick_diagram import draw_sticks
from clochewright.drawings.stick_readings import alike
from clochewright.drawings.stick_sheet import stick_sheets
from clochewright.drawings.svg import write_svg
from clochewright.drawings.views import draw_views

__all__ = [
    "DRAWERS",
    "FAMILY",
    "FONT_FILES",
    "FONT_FOLDER",
    "LOADED_NAMES",
    "Area",
    "BedBox",
    "BuildPictures",
    "Circle",
    "Drawing",
    "Line",
    "Mark",
    "PatternPoint",
    "Text",
    "alike",
    "draw_build",
    "draw_build_steps",
    "draw_job",
    "draw_lid",
    "draw_loaded",
    "draw_packing",
    "draw_pattern",
    "draw_season",
    "draw_sticks",
    "draw_views",
    "group_of",
    "pattern_points",
    "stick_sheets",
    "text_width_mm",
    "what_is_alike",
    "write_dxf",
    "write_svg",
]
