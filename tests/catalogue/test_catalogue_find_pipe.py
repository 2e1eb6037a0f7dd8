"""Pipes found by the names people write."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import load_catalogue
from clochewright.errors import CatalogueError

NAMES = {
    "1 in": "1 in Sch 40",
    '1"': "1 in Sch 40",
    "1″": "1 in Sch 40",
    "1 inch": "1 in Sch 40",
    "1": "1 in Sch 40",
    "1 in Sch 40": "1 in Sch 40",
    "1 IN SCHEDULE 40 PVC pipe": "1 in Sch 40",
    "sch.40 1 in": "1 in Sch 40",
    "1 1/4 in": "1-1/4 in Sch 40",
    "1-1/4 in sch 40": "1-1/4 in Sch 40",
    "1¼ in": "1-1/4 in Sch 40",
    "1.25 in": "1-1/4 in Sch 40",
    "½ in": "1/2 in Sch 40",
    "3/4": "3/4 in Sch 40",
    "2 in": "2 in Sch 40",
    "32 mm PN 16": "32 mm PN 16",
    "32mm pn16": "32 mm PN 16",
    "PN 10 40": "40 mm PN 10",
    "32 mm waste": "32 mm waste",
    "waste 32": "32 mm waste",
    "solvent weld waste 40": "40 mm waste",
}


@pytest.mark.parametrize("text", NAMES)
def test_a_pipe_is_found_however_it_is_written(text: str) -> None:
    assert load_catalogue().find_pipe(text).key == NAMES[text]


@pytest.mark.parametrize("text", ["32", "32 mm", " 32mm "])
def test_a_bare_32_asks_which(text: str) -> None:
    with pytest.raises(CatalogueError) as error:
        load_catalogue().find_pipe(text)
    for name in ("32 mm PN 10", "32 mm PN 16", "32 mm waste"):
        assert name in str(error.value)


@pytest.mark.parametrize(
    ("text", "nearest"), [("1 in Sch 80", "1 in Sch 40"), ("32 mm PN 6", "32 mm PN 16"), ("1 in sh 40", "1 in Sch 40")]
)
def test_an_unknown_pipe_names_the_nearest(text: str, nearest: str) -> None:
    with pytest.raises(CatalogueError, match="Did you mean") as error:
        load_catalogue().find_pipe(text)
    assert nearest in str(error.value)


@pytest.mark.parametrize("text", ["", "  ", "1/0", "²", "in", "sch 40", "9" * 300, "-32", "32 mm 40 mm", "gravel"])
def test_what_names_no_one_pipe_is_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(CatalogueError) as error:
        load_catalogue().find_pipe(text)
    assert "Traceback" not in str(error.value)
    assert str(error.value).endswith((".", "?"))


words = st.sampled_from(
    ["1", "1/2", "-", " ", "in", '"', "sch", "40", "32", "mm", "PN", "16", "waste", "/", "0", "½", "²", "٣"]
)


@given(st.one_of(st.text(max_size=80), st.lists(words, max_size=8).map("".join)))
def test_any_text_finds_a_pipe_or_is_refused(text: str) -> None:
    catalogue = load_catalogue()
    try:
        pipe = catalogue.find_pipe(text)
    except CatalogueError:
        return
    assert pipe in catalogue.pipes


def test_every_pipe_is_found_by_its_own_name() -> None:
    catalogue = load_catalogue()
    for pipe in catalogue.pipes:
        assert catalogue.find_pipe(pipe.key) is pipe
