"""The lettering against the typeface's own tables, read with fontTools."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from clochewright.drawings import FAMILY, FONT_FILES, FONT_FOLDER, Text, text_width_mm
from clochewright.drawings.lettering import CAP_HEIGHT, text_corners

NEEDED = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 .,:;-/'\"°×–—½¼¾()$£€%"


@pytest.mark.parametrize("face", list(FONT_FILES))
def test_the_typeface_has_every_sign_we_write(face):
    font = TTFont(FONT_FILES[face])
    assert not [sign for sign in NEEDED if ord(sign) not in font.getBestCmap()]
    assert font["name"].getDebugName(1) == FAMILY
    assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == CAP_HEIGHT


def test_it_has_no_primes_so_none_are_drawn():
    cmap = TTFont(FONT_FILES["regular"]).getBestCmap()
    assert 0x2032 not in cmap
    assert 0x2033 not in cmap


@pytest.mark.parametrize("face", list(FONT_FILES))
def test_width_is_the_sum_of_the_advances(face):
    font = TTFont(FONT_FILES[face])
    text = "0123456789"  # no kerning between figures
    advances = sum(font["hmtx"][font.getBestCmap()[ord(sign)]][0] for sign in text)
    assert text_width_mm(text, 4.0, face) == pytest.approx(advances / font["head"].unitsPerEm * 4.0, rel=0.002)


def test_a_turned_text_takes_up_a_turned_box():
    level = text_corners(Text("note", (10.0, 10.0), "46 in", 4.0))
    upright = text_corners(Text("note", (10.0, 10.0), "46 in", 4.0, turn_deg=90.0))
    for (x, y), (u, v) in zip(level, upright, strict=True):
        assert (u - 10, v - 10) == pytest.approx((-(y - 10), x - 10))


def test_the_licence_is_beside_the_files():
    assert "SIL OPEN FONT LICENSE Version 1.1" in (FONT_FOLDER / "OFL.txt").read_text(encoding="utf-8")
