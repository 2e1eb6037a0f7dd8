"""Whatever is given: plain sentences on the error stream, exit code 2, and the earlier output whole byte for byte."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from command_line import files_in, run_apart, run_here

BED = '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'
HUGE = "1" + 299 * "0"

# What the plan file holds, and what the answer has to name.
PLANS: dict[str, tuple[str | bytes, str]] = {
    "empty": ("", "bed"),
    "not TOML": ("[bed\nlength = 8 ft", "line 1"),
    "a letter to a friend": ("Dear friend,\nthe bed is 8 ft by 4.\n", "line 1"),
    "not text": (b"\xff\xfe\x00\x01" * 50, "text"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "text"),
    "zero bytes in it": (b"name = \"a\x00b\"\n", "line 1"),
    "bare number": (BED.replace('"8 ft"', "8"), "bed.length"),
    "number without unit": (BED.replace("8 ft", "8"), "bed.length"),
    "wrong unit": (BED.replace("8 ft", "8 kg"), "bed.length"),
    "an angle for a length": (BED.replace("8 ft", "45 deg"), "bed.length"),
    "a length for an angle": (BED + '[cover]\npitch = "45 in"\n', "cover.pitch"),
    "negative": (BED.replace("8 ft", "-8 ft"), "bed.length"),
    "nothing long": (BED.replace("8 ft", "0 ft"), "bed.length"),
    "a mile": (BED.replace("8 ft", "5280 ft"), "bed.length"),
    "a hair": (BED.replace("4 ft", "1/64 in"), "bed.width"),
    "300 digits": (BED.replace("8 ft", f"{HUGE} ft"), "bed.length"),
    "300 digits after the point": (BED.replace("8 ft", f"0.{HUGE} ft"), "bed.length"),
    "a fraction of 300 digits": (BED.replace("8 ft", f"1/{HUGE} in"), "bed.length"),
    "over nothing": (BED.replace("8 ft", "1/0 in"), "bed.length"),
    "300 digits bare": (BED.replace('"8 ft"', HUGE), "bed.length"),
    "300 digits of people": (f"people = {HUGE}\n{BED}", "people"),
    "5,000 digits": (f"people = {'9' * 5000}\n{BED}", ""),
    "endless": (BED.replace('"8 ft"', "inf"), "bed.length"),
    "no number": (BED.replace('"8 ft"', "nan"), "bed.length"),
    "a misspelt key": (BED.replace("width", "widht"), "width"),
    "a shape nobody knows": (BED + '[cover]\nshape = "igloo"\n', "cover.shape"),
    "film of 4 mm": (BED + '[film]\nkind = "4 mm film"\n', "4 mil"),
    "unknown film": (BED + '[film]\nkind = "kitchen foil"\n', "film"),
    "unknown pipe": (BED + '[pipe]\nsize = "7 in"\n', "7 in"),
    "a bare 32": (BED + '[pipe]\nsize = "32"\n', "PN"),
    "a bare number for the pipe": (BED + "[pipe]\nsize = 32\n", "pipe.size"),
    "own fitting of no kind": (BED + '[[own.fittings]]\nkind = "twee"\nhub = "2 in"\n', "tee"),
    "own fitting, hub under its socket": (BED + '[[own.fittings]]\nkind = "tee"\nhub = "1/2 in"\n', "hub"),
    "own pipe all wall": (
        BED + '[pipe]\nsize = "grey"\n[[own.pipes]]\nsize = "grey"\noutside_diameter = "1 in"\nwall = "1 in"\n', "wall"
    ),
    "price file that is not there": (BED + '[prices]\nfile = "none.csv"\n', "none.csv"),
    "price file that is a folder": (BED + '[prices]\nfile = "."\n', ""),
    "part list that is not there": (BED + '[own]\nfile = "none.toml"\n', "none.toml"),
}  # fmt: skip

# Name, text and what has to be named, of a file that the plan refers to.
FILES: dict[str, tuple[str, str | bytes, str]] = {
    "prices: broken rows": (
        "prices.csv",
        "item,pack,price\npipe:1 in Sch 40,10 ft,cheap\nx,,3\ny,each,-4\nz,each,1e400\n",
        "row 2",
    ),
    "prices: no such columns": ("prices.csv", "thing,cost\npipe,3\n", "item"),
    "prices: empty": ("prices.csv", "", "item"),
    "prices: not text": ("prices.csv", b"\xff\xfe\x00", "text"),
    "prices: twice": ("prices.csv", "item,pack,price\na,each,1\na,each,2\n", "row 3"),
    "prices: a number of 300 digits": ("prices.csv", f"item,pack,price\na,each,{HUGE}\n", "row 2"),
    "parts: no socket depth": (
        "parts.toml",
        '[[pipe]]\nsize = "grey"\noutside_diameter = "33 mm"\nwall = "3 mm"\n'
        '[[fitting]]\nkind = "elbow-90"\npipe = "grey"\ncentre_to_stop = "1 in"\nhub = "42 mm"\n',
        "depth",
    ),
    "parts: not TOML": ("parts.toml", "[[fitting]\n", "TOML"),
    "parts: unknown table": ("parts.toml", "[[fittings]]\n", "fitting"),
    "parts: a depth without unit": (
        "parts.toml", '[[fitting]]\nkind = "tee"\npipe = "1 in Sch 40"\nsocket_depth = 1\n', "1 in or 1 mm"
    ),
    "parts: unknown pipe": ("parts.toml", '[[fitting]]\nkind = "tee"\npipe = "9 in"\nsocket_depth = "1 in"\n', "9 in"),
}  # fmt: skip


@pytest.fixture
def earlier(tmp_path, monkeypatch, capsys):
    """A folder with an earlier job in it."""
    (tmp_path / "good.toml").write_text(BED, encoding="utf-8")
    assert run_here(monkeypatch, capsys, "plan", tmp_path / "good.toml", "--out", tmp_path / "job").code == 0
    return tmp_path / "job"


def assert_plain(done, names=""):
    """Exit code 2, one or more sentences, the thing named, no traceback, nothing on the other stream."""
    assert done.code == 2, done
    assert done.out == ""
    assert names in done.err
    assert "Traceback" not in done.err
    lines = done.err.strip().splitlines()
    assert lines
    for line in lines:
        assert line.rstrip().endswith((".", "?", "price", '."', ".)")), line
        assert len(line) < 600, line
        assert not any(word in line for word in ("Error", "Errno", "None", "NoneType", "0x", "<class")), line


def refused(folder: Path, monkeypatch, capsys, plan: Path, names: str) -> None:
    """The plan is refused and what stood in the folder is as it was."""
    before = files_in(folder)
    done = run_here(monkeypatch, capsys, "plan", plan, "--out", folder)
    assert_plain(done, names)
    assert files_in(folder) == before


def write(path: Path, content: str | bytes) -> Path:
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_every_bad_plan(earlier, tmp_path, monkeypatch, capsys):
    for name, (content, names) in PLANS.items():
        try:
            refused(earlier, monkeypatch, capsys, write(tmp_path / "plan.toml", content), names)
        except AssertionError as wrong:
            raise AssertionError(f"{name}: {wrong}") from wrong


def test_every_bad_file_that_a_plan_refers_to(earlier, tmp_path, monkeypatch, capsys):
    for name, (file, content, names) in FILES.items():
        write(tmp_path / file, content)
        table = "prices" if file.endswith("csv") else "own"
        plan = write(tmp_path / "plan.toml", f'{BED}[{table}]\nfile = "{file}"\n')
        try:
            refused(earlier, monkeypatch, capsys, plan, names)
        except AssertionError as wrong:
            raise AssertionError(f"{name}: {wrong}") from wrong


def test_every_broken_price_row_is_told_at_once(tmp_path, monkeypatch, capsys):
    write(tmp_path / "prices.csv", FILES["prices: broken rows"][1])
    plan = write(tmp_path / "plan.toml", f'{BED}[prices]\nfile = "prices.csv"\n')
    told = run_here(monkeypatch, capsys, "plan", plan).err
    assert [row for row in range(2, 6) if f"row {row}" in told] == [2, 3, 4, 5]


def test_a_plan_file_that_cannot_be_read(earlier, tmp_path, monkeypatch, capsys):
    plans = {tmp_path / "none.toml": "none.toml", tmp_path: "folder", tmp_path / "a" / "b": "b",
             Path("/dev/null"): "", tmp_path / ("x" * 300): "x", tmp_path / "a\nb.toml": ""}  # fmt: skip
    for plan, names in plans.items():
        refused(earlier, monkeypatch, capsys, plan, names)


def blocked_folders(root: Path) -> list[Path]:
    """Folders that can't be written, for root as well."""
    write(root / "file", "mine")
    (root / "taken" / "job.json").mkdir(parents=True)
    write(root / "taken" / "job.json" / "mine", "mine")
    (root / "drawn").mkdir()
    write(root / "drawn" / "drawings", "a file where a folder has to be")
    (root / "loop").symlink_to(root / "loop")
    return [root / "file", root / "file" / "below", root / "taken", root / "drawn", root / "loop", Path("/proc/none/x"),
            root / ("x" * 300)]  # fmt: skip


def test_a_folder_that_cannot_be_written(tmp_path, monkeypatch, capsys):
    plan = write(tmp_path / "plan.toml", BED)
    root = tmp_path / "root"
    root.mkdir()
    for folder in blocked_folders(root):
        before, folders = files_in(root), sorted(path for path in root.rglob("*") if path.is_dir())
        done = run_here(monkeypatch, capsys, "plan", plan, "--out", folder)
        assert_plain(done, "Can't write to")
        assert files_in(root) == before
        assert sorted(path for path in root.rglob("*") if path.is_dir()) == folders


@pytest.mark.parametrize("when", ["writing", "opening", "replacing", "replacing the first"])
def test_a_disk_that_fills_up(earlier, tmp_path, monkeypatch, capsys, when):
    plan = write(tmp_path / "plan.toml", BED.replace("4 ft", "3 ft"))
    before = files_in(earlier)
    full = OSError(errno.ENOSPC, "No space left on device")
    calls = iter(range(1, 1000))

    def failing(real, at):
        def call(*args, **kwargs):
            if next(calls) == at:
                raise full
            return real(*args, **kwargs)

        return call

    with monkeypatch.context() as patch:
        if when == "writing":
            patch.setattr(os, "fdopen", lambda handle, *_: FullFile(handle, failing(os.write, 7)))
        elif when == "opening":
            patch.setattr("tempfile.mkstemp", failing(__import__("tempfile").mkstemp, 7))
        else:
            patch.setattr(Path, "replace", failing(Path.replace, 1 if when == "replacing the first" else 12))
        done = run_here(patch, capsys, "plan", plan, "--out", earlier)
    assert_plain(done, "no space left")
    assert files_in(earlier) == before


class FullFile:
    """A file on a disk that fills up."""

    def __init__(self, handle, write):
        self.handle, self.put = handle, write

    def __enter__(self):
        return self

    def __exit__(self, *_):
        os.close(self.handle)

    def write(self, content):
        self.put(self.handle, content)


def test_a_full_disk_leaves_no_new_folder(tmp_path, monkeypatch, capsys):
    plan = write(tmp_path / "plan.toml", BED)

    def full(*_args, **_kwargs):
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("tempfile.mkstemp", full)
        assert_plain(run_here(patch, capsys, "plan", plan, "--out", tmp_path / "a" / "b"), "no space left")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plan.toml"]


def test_bad_input_of_the_other_commands(tmp_path, monkeypatch, capsys):
    good = write(tmp_path / "good.toml", BED)
    new = tmp_path / "new.toml"
    calls = [
        (("new", good, "--length", "8 ft", "--width", "4 ft"), "there already"),
        (("new", new, "--length", "8", "--width", "4 ft"), "8"),
        (("new", new, "--length", "-8 ft", "--width", "4 ft"), "bed.length"),
        (("new", new, "--length", f"{HUGE} ft", "--width", "4 ft"), "bed.length"),
        (("new", new, "--length", "8 ft", "--width", "4 ft", "--pipe", "a\nb"), "pipe"),
        (("new", good / "new.toml", "--length", "8 ft", "--width", "4 ft"), "Can't write"),
        (("catalogue", "--plan", tmp_path / "none.toml"), "none.toml"),
        (("measure", tmp_path / "none.toml", "--kind", "tee"), "none.toml"),
    ]
    for words, names in calls:
        assert_plain(run_here(monkeypatch, capsys, *words), names)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["good.toml"]


def test_options_that_do_not_exist_end_with_2_as_well(tmp_path, monkeypatch, capsys):
    good = write(tmp_path / "good.toml", BED)
    for words in (("plan",), ("plan", good, "--paper", "a0"), ("plann", good), ("new", "x.toml", "--shape", "own")):
        done = run_here(monkeypatch, capsys, *words)
        assert done.code == 2
        assert "Traceback" not in done.err


def test_a_real_process_says_the_same(tmp_path):
    done = run_apart("plan", tmp_path / "none.toml", "--out", tmp_path / "job")
    assert_plain(done, "none.toml")
    assert not (tmp_path / "job").exists()
