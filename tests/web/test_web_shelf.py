"""The shelf: saves, versions, undo and redo, plans put there by hand, keys for names of any text."""

from __future__ import annotations

import json
import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.web.shelf import Shelf, ShelfError
from clochewright.web.shelf.names import free_key, is_key, slug
from clochewright.web.shelf.versions import MOST_VERSIONS, read_journal


@pytest.fixture
def shelf(tmp_path):
    return Shelf(tmp_path)


def texts(shelf, key):
    return [version.text for version in shelf.versions(key)]


def put(shelf, key, text):
    return shelf.save(key, lambda _: (text, "a change"))


def test_a_plan_is_a_file_in_the_folder(shelf, tmp_path):
    key = shelf.begin("Bed 4", "one", "begun")
    assert key == "bed-4"
    assert (tmp_path / "bed-4.toml").read_text(encoding="utf-8") == "one"
    assert shelf.read(key).text == "one"
    assert shelf.all_keys() == ("bed-4",)


def test_undo_and_redo_go_through_every_change(shelf):
    key = shelf.begin("Bed", "a", "begun")
    for text in "bcd":
        put(shelf, key, text)
    assert [shelf.undo(key).text for _ in range(4)] == ["c", "b", "a", "a"]
    assert not shelf.read(key).can_undo
    assert [shelf.redo(key).text for _ in range(4)] == ["b", "c", "d", "d"]
    assert not shelf.read(key).can_redo


def test_a_change_after_undo_drops_redo_but_keeps_the_version(shelf):
    key = shelf.begin("Bed", "a", "begun")
    put(shelf, key, "b")
    shelf.undo(key)
    assert not put(shelf, key, "c").can_redo
    assert texts(shelf, key) == ["c", "b", "a"]
    assert shelf.undo(key).text == "a"
    assert shelf.restore(key, 2, "back").text == "b"


def test_where_one_stood_is_known_after_a_restart(shelf, tmp_path):
    key = shelf.begin("Bed", "a", "begun")
    put(shelf, key, "b")
    shelf.undo(key)
    again = Shelf(tmp_path)
    assert again.read(key).text == "a"
    assert again.redo(key).text == "b"


def test_a_file_edited_by_hand_is_taken_in_as_a_version(shelf, tmp_path):
    key = shelf.begin("Bed", "a", "begun")
    (tmp_path / "bed.toml").write_text("by hand", encoding="utf-8")
    kept = shelf.read(key)
    assert kept.text == "by hand"
    assert shelf.undo(key).text == "a"
    assert shelf.redo(key).text == "by hand"


def test_a_file_put_there_by_hand_is_on_the_shelf(shelf, tmp_path):
    (tmp_path / "Bed 9 (north).toml").write_text("x", encoding="utf-8")
    assert shelf.all_keys() == ("bed-9-north",)
    put(shelf, "bed-9-north", "y")
    assert (tmp_path / "Bed 9 (north).toml").read_text(encoding="utf-8") == "y"


def test_a_line_cut_short_by_a_crash_spoils_only_itself(shelf, tmp_path):
    key = shelf.begin("Bed", "a", "begun")
    put(shelf, key, "b")
    journal = tmp_path / ".kept" / key / "versions"
    with journal.open("ab") as file:
        file.write(b'{"number": 3, "text": "half')
    again = Shelf(tmp_path)
    assert put(again, key, "c").text == "c"
    assert texts(Shelf(tmp_path), key) == ["c", "b", "a"]


def test_a_journal_that_grew_long_is_tidied_and_undo_still_works(shelf, tmp_path):
    key = shelf.begin("Bed", "0", "begun")
    journal = tmp_path / ".kept" / key / "versions"
    lines = [
        json.dumps({"number": n, "parent": n - 1, "what": "", "when_s": 0, "text": str(n)})
        for n in range(2, 2 * MOST_VERSIONS + 1)
    ]
    with journal.open("a", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
    (tmp_path / "bed.toml").write_text(str(2 * MOST_VERSIONS), encoding="utf-8")
    put(Shelf(tmp_path), key, "last")
    assert len(read_journal(journal).versions) == MOST_VERSIONS
    assert Shelf(tmp_path).undo(key).text == str(2 * MOST_VERSIONS)


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="this system has no links")
def test_a_link_out_of_the_folder_is_not_on_the_shelf(tmp_path):
    outside = tmp_path / "outside.toml"
    outside.write_text("secret", encoding="utf-8")
    shelf = Shelf(tmp_path / "plans")
    (tmp_path / "plans" / "linked.toml").symlink_to(outside)
    assert shelf.all_keys() == ()
    with pytest.raises(ShelfError):
        shelf.read("linked")


@pytest.mark.parametrize("key", ["../bed", "..", "", ".kept", "a/b", "a\\b", "Bed", "a" * 200, "con\0", "ключ"])
def test_what_is_no_key_opens_nothing(shelf, key):
    shelf.begin("Bed", "a", "begun")
    with pytest.raises(ShelfError) as told:
        shelf.read(key)
    assert told.value.missing


def test_text_that_is_no_text_is_told_and_left_alone(shelf, tmp_path):
    (tmp_path / "photo.toml").write_bytes(b"\xff\xd8\xff")
    with pytest.raises(ShelfError, match="can't be read as text"):
        shelf.read("photo")
    assert (tmp_path / "photo.toml").read_bytes() == b"\xff\xd8\xff"


def test_a_change_that_raises_changes_nothing(shelf):
    key = shelf.begin("Bed", "a", "begun")

    def broken(text):
        raise ValueError(text)

    with pytest.raises(ValueError, match="a"):
        shelf.save(key, broken)
    assert texts(shelf, key) == ["a"]


def test_ticks_stay_after_a_restart(shelf, tmp_path):
    key = shelf.begin("Bed", "a", "begun")
    with shelf.bench(key) as bench:
        bench.tick("A-95000", 0, done=True)
        bench.tick("A-95000", 2, done=True)
        bench.tick("A-95000", 0, done=False)
    with Shelf(tmp_path).bench(key) as bench:
        assert bench.ticked("A-95000") == {2}
        assert bench.ticked("B-1") == frozenset()


@given(st.text(max_size=300))
def test_any_name_makes_a_safe_key(name):
    key = slug(name)
    assert is_key(key)
    taken = {key, f"{key}-2"}
    other = free_key(name, taken.__contains__)
    assert is_key(other)
    assert other not in taken


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("<script>alert(1)</script>", "script-alert-1-script"),
        ("../../etc/passwd", "etc-passwd"),
        ("Zoë’s bed №4", "zoes-bed-no4"),
        ("грядка", "plan"),
        ("CON", "plan-con"),
        ("", "plan"),
    ],
)
def test_keys_of_hostile_names(name, key):
    assert slug(name) == key
