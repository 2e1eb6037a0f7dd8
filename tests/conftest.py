"""How the tests run: quick and repeatable by default, longer and at random with --run-slow."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings

import clochewright  # noqa: F401  first of all: it sets how many threads numpy takes

# How fast a machine draws examples says nothing about the code, so neither profile looks at the clock.
UNTIMED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("quick", UNTIMED, max_examples=60, derandomize=True)
settings.register_profile("slow", UNTIMED, max_examples=2000)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--run-slow", action="store_true", help="run the slow tests, and more examples of the others")


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("slow" if config.getoption("--run-slow") else "quick")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--run-slow"):
        return
    for item in items:
        if "slow" in item.keywords:
            item.add_marker(pytest.mark.skip(reason="slow: run with --run-slow"))


@pytest.fixture
def small_tent():
    """A tent of 4 ft by 3 ft put together by hand (see frame_samples)."""
    import frame_samples  # here, so that rooms further down are tested without the frame room

    return frame_samples.small_tent()
