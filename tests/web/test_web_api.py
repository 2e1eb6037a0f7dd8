"""The interface for programs: the handbook's examples as they stand there, and what they leave out."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from page_server import DEMO

HANDBOOK = Path(__file__).resolve().parents[2] / "docs" / "api.md"
EXAMPLE = re.compile(r"```http\n(.*?)```\n\n```json\n([0-9]{3})\n(.*?)```", re.DOTALL)


def holds(answer, shown):
    """Whether an answer holds all that an example shows of it."""
    if isinstance(shown, dict):
        return isinstance(answer, dict) and all(key in answer and holds(answer[key], shown[key]) for key in shown)
    if isinstance(shown, list):
        return len(answer) >= len(shown) and all(holds(a, b) for a, b in zip(answer, shown, strict=False))
    return answer == pytest.approx(shown) if isinstance(shown, float) else answer == shown


def send(site, asked):
    head, _, body = asked.partition("\n\n")
    first, *rest = head.splitlines()
    method, path = first.split(" ")
    headers = dict(line.split(": ", 1) for line in rest)
    return site.request(method, path, headers=headers, content=body.encode() or None)


def test_every_example_of_the_handbook_is_answered_as_it_says(own_site):
    examples = EXAMPLE.findall(HANDBOOK.read_text(encoding="utf-8"))
    assert len(examples) == HANDBOOK.read_text(encoding="utf-8").count("```http") >= 9
    for asked, status, shown in examples:
        answer = send(own_site, asked)
        assert answer.status_code == int(status), (asked, answer.text[:300])
        assert holds(answer.json(), json.loads(shown)), (asked, answer.text[:300])


def test_a_job_is_the_same_as_the_command_lines(site, tmp_path):
    from clochewright.job import look_further, open_shelf, result_text, run
    from clochewright.plan import read_plan

    plan_file = tmp_path / "plan.toml"
    plan_file.write_text(site.get(f"/api/plans/{DEMO}").text, encoding="utf-8")
    plan = read_plan(plan_file)
    shelf = open_shelf(plan, tmp_path)
    expected = json.loads(result_text(look_further(run(plan, *shelf), *shelf)))
    assert site.get(f"/api/plans/{DEMO}/job").json() == expected
    assert site.get(f"/plan/{DEMO}/job.json").json() == expected


@pytest.mark.parametrize("step", ["bed", "shape", "fittings", "cuts", "buying", "film"])
def test_every_step_is_told(site, step):
    told = site.get(f"/api/plans/{DEMO}/steps/{step}").json()
    assert told["step"] == step
    assert told["shown"]["figures"]
    assert told["fields"]
    assert told["how"]
    for field in told["fields"]:
        assert field["label"] != field["path"], field["path"]
        assert field["control"] in ("text", "number", "choice", "yes-no", "list")


def test_findings_stand_in_one_step_each(site):
    steps = [site.get(f"/api/plans/{DEMO}/steps/{step}").json() for step in
             ("bed", "shape", "fittings", "cuts", "buying", "film")]  # fmt: skip
    shown = [note["what"] for step in steps for note in step["findings"]]
    assert len(shown) == len(set(shown))
    assert "All prices are invented for Sorrel Yard." in [note["what"] for note in steps[4]["findings"]]


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("plan.toml", "application/toml"),
        ("job.json", "application/json"),
        ("cuts.csv", "text/csv; charset=utf-8"),
        ("supplies.csv", "text/csv; charset=utf-8"),
        ("scene.json", "application/json"),
        ("booklet.pdf", "application/pdf"),
        ("plan.svg", "image/svg+xml"),
        ("sticks.svg", "image/svg+xml"),
    ],
)
def test_files(site, name, kind):
    answer = site.get(f"/api/plans/{DEMO}/files/{name}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == kind


@pytest.mark.parametrize("path", ["steps/nothing", "files/nothing.svg", "files/plan", "files/..", "files/plan.svg.svg"])
def test_what_is_not_there(site, path):
    answer = site.get(f"/api/plans/{DEMO}/{path}")
    assert answer.status_code in (404, 307, 405) or path.endswith("..")


def test_a_plan_is_replaced_and_its_old_text_kept(own_site):
    before = own_site.get(f"/api/plans/{DEMO}").text
    new = before.replace('"8 ft"', '"9 ft"')
    assert own_site.put(f"/api/plans/{DEMO}", content=new).json()["version"] == 2
    assert own_site.get(f"/api/plans/{DEMO}").text == new
    own_site.post(f"/plan/{DEMO}/undo")
    assert own_site.get(f"/api/plans/{DEMO}").text == before
    assert own_site.put("/api/plans/nobody", content=new).status_code == 404


@pytest.mark.parametrize("changes", [{}, [], "x", {"bed.length": ["8 ft"]}, {"bed.length": {"a": 1}}, {"nothing": 1}])
def test_changes_that_are_none_are_refused(site, changes):
    answer = site.patch(f"/api/plans/{DEMO}", json=changes)
    assert answer.status_code == 422
    assert answer.json()["detail"]
