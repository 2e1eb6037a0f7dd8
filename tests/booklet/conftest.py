"""Jobs to print: one that can be built, one dry and metric with prices of its own, one that is refused."""

from __future__ import annotations

import io

import pypdf
import pytest

from clochewright.catalogue import Prices, load_catalogue, load_prices
from clochewright.job import run
from clochewright.plan import plan_from_text

BED = """
name = "Sorrel Yard, bed 9"
units = "inch"
question = "fits-the-car"
bed = { length = "8 ft", width = "4 ft" }
car = { inside_length = "7 ft" }
"""
METRIC = """
name = "Sorrel Yard, bed 2"
units = "mm"
question = "cost"
bed = { length = "2400 mm", width = "1200 mm", board = "38 mm", height = "280 mm" }
cover = { bay = "1200 mm" }
pipe = { size = "1 in" }
joints = { seat = "dry" }
film = { kind = "150 micron UV film" }
prices = { currency = "EUR" }
"""
TOO_NARROW = """
name = "Sorrel Yard, a plank"
bed = { length = "8 ft", width = "2 ft" }
cover = { apex = "pointed", height = "1 in" }
"""


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="session")
def job_of(catalogue):
    """Runs a plan's text; at the invented prices, or at those given."""

    def make(text, prices=None):
        return run(plan_from_text(text, "plan"), catalogue, load_prices(None, catalogue) if prices is None else prices)

    return make


@pytest.fixture(scope="session")
def bed(job_of):
    return job_of(BED)


@pytest.fixture(scope="session")
def metric(job_of):
    """Dry, in millimetres, and with no price for anything."""
    return job_of(METRIC, Prices())


@pytest.fixture(scope="session")
def refused(job_of):
    return job_of(TOO_NARROW)


@pytest.fixture(scope="session")
def read():
    """A PDF's pages as text, all white space as single spaces."""

    def pages(pdf):
        return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]

    return pages
