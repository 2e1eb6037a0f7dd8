"""The main job on every example, end to end: what is written, that it agrees with itself, that it is the same again."""

from __future__ import annotations

import csv
import io
import json
import re
from copy import deepcopy
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pypdf
import pytest
from command_line import EXAMPLES, files_in, run_apart, run_here
from typer.testing import CliRunner

from clochewright.cli.app import app
from clochewright.measures import read_length
from properties.result_file import contradictions, gaps, missing_keys

PLANS = sorted(EXAMPLES.glob("*.toml"))
VIEWS = ("plan", "end", "side", "three-quarter")


@pytest.fixture(scope="module", params=PLANS, ids=lambda path: path.stem)
def written(request, tmp_path_factory):
    """One example worked out: the plan file, the folder, what was printed."""
    folder = tmp_path_factory.mktemp("job") / "new" / "folder"
    done = CliRunner().invoke(app, ["plan", str(request.param), "--out", str(folder)], env={"COLUMNS": "80"})
    assert done.exit_code == 0, (done.output, done.exception)
    return request.param, folder, done.stdout


def job_of(folder: Path) -> dict:
    return json.loads((folder / "job.json").read_text(encoding="utf-8"))


def test_every_file_is_written(written):
    _, folder, _ = written
    names = set(files_in(folder))
    assert {"job.json", "cuts.csv", "supplies.csv", "booklet.pdf"} <= names
    for ending in ("svg", "dxf"):
        assert {f"drawings/{view}.{ending}" for view in VIEWS} <= names
        assert any(name.startswith("drawings/sticks") and name.endswith(ending) for name in names)
    assert not [name for name in names if name.endswith((".part", ".kept"))]


def test_the_result_file_has_its_keys_closes_and_agrees_with_itself(written):
    job = job_of(written[1])
    assert list(missing_keys(job)) == []
    assert list(gaps(job["frame"])) == []
    assert list(contradictions(job)) == []


def test_those_checks_see_what_is_wrong(written):
    good = job_of(written[1])

    def spoilt(change):
        job = deepcopy(good)
        change(job)
        return [*missing_keys(job), *gaps(job["frame"]), *contradictions(job)]

    assert spoilt(lambda job: job["frame"].pop("height_m"))
    assert spoilt(lambda job: job["frame"]["pipes"][0].update(cut_length_m=0.001))
    assert spoilt(lambda job: job["frame"]["fittings"][0]["ports"][0].update(socket_depth_m=0.5))
    assert spoilt(lambda job: job["frame"]["fittings"][0]["ports"][0].update(direction=[0.6, 0.8, 0.0]))
    assert spoilt(lambda job: job["frame"]["pipes"][0].update(mark="Z"))
    assert spoilt(lambda job: job["cuts"][0].update(count=99))
    assert spoilt(lambda job: job["stock"]["sticks"][0]["cuts"].pop())
    assert spoilt(lambda job: job["stock"]["sticks"][0].update(offcut_m=9.0))
    assert spoilt(lambda job: job.update(supplies_total=job["supplies_total"] + 1))
    assert spoilt(lambda job: job["mass_kg"].update(lid=0.0))
    assert spoilt(lambda job: job["joints"].pop())


def test_the_tables_say_what_the_result_file_says(written):
    _, folder, _ = written
    job = job_of(folder)
    cuts = list(csv.reader(io.StringIO((folder / "cuts.csv").read_text(encoding="utf-8"))))[1:]
    assert [(row[0], int(row[1])) for row in cuts] == [(cut["mark"], cut["count"]) for cut in job["cuts"]]
    for row, cut in zip(cuts, job["cuts"], strict=True):
        assert float(read_length(row[2])) == pytest.approx(cut["length_m"], abs=1e-6)
    *rows, total = csv.DictReader(io.StringIO((folder / "supplies.csv").read_text(encoding="utf-8")))
    assert [(row["item"], float(row["quantity"])) for row in rows] == [
        (row["item"], row["quantity"]) for row in job["supplies"]
    ]
    assert float(total["price"]) == pytest.approx(job["supplies_total"])


def test_drawings_and_booklet_open(written):
    _, folder, _ = written
    for path in (folder / "drawings").iterdir():
        if path.suffix == ".svg":
            assert ElementTree.parse(path).getroot().tag.endswith("svg")
    drawing = ezdxf.readfile(folder / "drawings" / "three-quarter.dxf")
    assert not drawing.audit().errors
    first_page = pypdf.PdfReader(folder / "booklet.pdf").pages[0].extract_text()
    assert "".join(job_of(folder)["answer"]["text"].split()) in "".join(first_page.split())


def test_findings_come_sorted_and_in_words(written):
    findings = job_of(written[1])["findings"]
    levels = [finding["level"] for finding in findings]
    assert levels == sorted(levels, key=["stop", "warn", "note"].index)
    assert "stop" not in levels
    for finding in findings:
        assert finding["what"].strip().endswith((".", "?", "!")), finding
        assert not re.search(r"[{}]|\bNone\b|\bnan\b", finding["what"] + finding["why"] + finding["mend"]), finding


def test_what_is_printed_opens_with_the_answer_and_is_in_the_files(written):
    _, folder, printed = written
    job = job_of(folder)
    flat = " ".join(printed.split())
    assert flat.startswith(f"{job['plan']['name']} {job['answer']['text']}")
    marks = "|".join(cut["mark"] for cut in job["cuts"])
    assert len(re.findall(rf"^  ({marks}) +[0-9]+ ", printed, re.MULTILINE)) == len(job["cuts"])
    assert max(map(len, printed.splitlines())) <= 80


def test_the_same_plan_gives_the_same_bytes_in_another_process(written, tmp_path):
    plan_file, folder, _ = written
    done = run_apart("plan", plan_file, "--out", tmp_path / "again", PYTHONHASHSEED="11")
    assert (done.code, done.err) == (0, "")
    first, second = files_in(folder), files_in(tmp_path / "again")
    assert first.keys() == second.keys()
    assert [name for name in first if first[name] != second[name]] == []


def test_a_shorter_job_leaves_no_old_sticks_behind(tmp_path, monkeypatch, capsys):
    out = tmp_path / "job"
    (out / "drawings").mkdir(parents=True)
    for name in ("drawings/sticks-99.svg", "drawings/notes.svg", "mine.txt"):
        (out / name).write_text("mine", encoding="utf-8")
    assert run_here(monkeypatch, capsys, "plan", PLANS[0], "--out", out).code == 0
    names = files_in(out)
    assert "drawings/sticks-99.svg" not in names
    assert {"drawings/notes.svg", "mine.txt"} <= names.keys()


def test_without_a_folder_nothing_is_written(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    done = run_here(monkeypatch, capsys, "plan", PLANS[0])
    assert done.code == 0
    assert "Nothing was written" in done.out
    assert list(tmp_path.iterdir()) == []


def test_a_plan_that_cannot_be_built_leaves_the_earlier_job_alone(tmp_path, monkeypatch, capsys):
    plan = tmp_path / "bed.toml"
    plan.write_text('[bed]\nlength = "8 ft"\nwidth = "4 ft"\n', encoding="utf-8")
    assert run_here(monkeypatch, capsys, "plan", plan, "--out", tmp_path / "job").code == 0
    before = files_in(tmp_path / "job")
    plan.write_text('[bed]\nlength = "8 ft"\nwidth = "4 ft"\n[cover]\napex = "flat"\npitch = "30 deg"\n')
    done = run_here(monkeypatch, capsys, "plan", plan, "--out", tmp_path / "job")
    assert done.code == 1
    assert "STOP" in done.out
    assert "butted" in done.out  # the mend
    assert files_in(tmp_path / "job") == before


def test_signs_that_a_terminal_lacks_stop_nothing():
    done = run_apart("plan", PLANS[0], PYTHONIOENCODING="ascii")
    assert (done.code, done.err) == (0, "")
