"""Views of frames put together by hand, so that these tests rest on no other step."""

from __future__ import annotations

import pytest
from drawing_samples import BEDS, bed_for, marked

import frame_samples
from clochewright.drawings import draw_views


@pytest.fixture(scope="session", params=list(BEDS))
def any_tent(request):
    return frame_samples.tent(*BEDS[request.param])


@pytest.fixture(scope="session", params=["inch", "mm"])
def any_views(request, any_tent):
    return draw_views(any_tent, marked(any_tent), bed_for(any_tent), request.param)


@pytest.fixture(scope="session")
def usual_tent():
    return frame_samples.tent(*BEDS["usual"])


@pytest.fixture(scope="session")
def usual_views(usual_tent):
    return draw_views(usual_tent, marked(usual_tent), bed_for(usual_tent), "inch")
