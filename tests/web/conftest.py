"""A page with the demo plan on its shelf, served on this machine's loopback."""

from __future__ import annotations

import pytest
from page_server import page_at


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The folder that the module's page keeps its plans in."""
    return tmp_path_factory.mktemp("plans")


@pytest.fixture(scope="module")
def site(folder):
    """A client of a page that one module's tests share."""
    with page_at(folder) as client:
        yield client


@pytest.fixture
def own_site(tmp_path):
    """A client of a page of one's own."""
    with page_at(tmp_path / "plans") as client:
        yield client
