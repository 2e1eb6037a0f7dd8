"""The table of crops: every row in order, found however it is spelt."""

from __future__ import annotations

import pytest

from clochewright.catalogue import find_crop, load_crops
from clochewright.errors import CatalogueError


def test_every_crop_is_in_order():
    crops = load_crops()
    assert len(crops) == 32
    for crop in crops:
        growth = (crop.grow_least_degC, crop.grow_best_low_degC, crop.grow_best_high_degC, crop.grow_most_degC)
        sprouting = (crop.germ_least_degC, crop.germ_best_low_degC, crop.germ_best_high_degC, crop.germ_most_degC)
        for row in (growth, sprouting):
            assert None not in row or set(row) == {None}
            assert None in row or list(row) == sorted(row), crop
        assert -12 <= crop.kill_degC <= 5
        assert crop.kill_degC < crop.warmth_base_degC < crop.limit_degC
        assert crop.days_low_count < crop.days_high_count
        assert crop.source


def test_figures_of_the_tables():
    """Harrington & Minges; Knott's Handbook 1997; Oregon State's 50 and 86 degF for sweet corn."""
    tomato, corn = find_crop("tomato"), find_crop("sweet corn")
    assert (tomato.germ_least_degC, tomato.germ_most_degC, tomato.grow_best_low_degC) == (10, 35, 21)
    assert (corn.warmth_base_degC, corn.warmth_cap_degC) == (10, 30)
    assert find_crop("lettuce").is_cool
    assert not tomato.is_cool


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Tomatoes", "tomato"),
        ("peas", "pea"),
        ("Pumpkin", "squash, pumpkin"),
        (" brussels sprouts ", "Brussels sprouts"),
    ],
)
def test_a_crop_is_found_however_it_is_spelt(typed, name):
    assert find_crop(typed).name == name


def test_an_unknown_crop_gets_a_hint():
    with pytest.raises(CatalogueError, match="lettuce"):
        find_crop("letuce")
    with pytest.raises(CatalogueError):
        find_crop("x" * 500)
