"""Set and cure of solvent cement: a pipe maker's plastics technical manual, p. 96, its two columns of sizes.

Joint sizes 1/2 to 1-1/4 in and 1-1/2 to 3 in; cure is the column for pressures up to 180 psi.
"""

from __future__ import annotations

import pytest

from clochewright.booklet.curing import curing_table

INCH = 0.0254
# Outside diameters [in]: ASTM D1785 Table 1.
SMALL, LARGE = (0.840, 1.315, 1.660), (1.900, 2.375)
PRINTED = {
    "small": [
        ["60 °F to 100 °F", "15 minutes", "1 hour"],
        ["40 °F to 60 °F", "1 hour", "2 hours"],
        ["0 °F to 40 °F", "3 hours", "8 hours"],
    ],
    "large": [
        ["60 °F to 100 °F", "30 minutes", "2 hours"],
        ["40 °F to 60 °F", "2 hours", "4 hours"],
        ["0 °F to 40 °F", "6 hours", "16 hours"],
    ],
}


@pytest.mark.parametrize(("outside_in", "column"), [*((d, "small") for d in SMALL), *((d, "large") for d in LARGE)])
def test_times_are_the_manual_s(outside_in, column):
    assert curing_table(outside_in * INCH, "inch")["rows"] == PRINTED[column]


def test_in_celsius_the_bands_are_the_manual_s_too():
    """The same manual gives 16 to 38, 4 to 16 and -18 to 4 degC."""
    bands = [row[0] for row in curing_table(0.032, "mm")["rows"]]
    assert bands == ["16 °C to 38 °C", "4 °C to 16 °C", "-18 °C to 4 °C"]
