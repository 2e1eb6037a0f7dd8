"""What is packed: the wheel carries the built page, and not what it is built from."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
WEB = "src/clochewright/web"
NAMES = HOUSE / WEB / "static" / "names.json"


def pack(folder, kind, out):
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(out)]
    subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True)
    (made,) = out.iterdir()
    return made


def test_the_wheel_carries_the_page(tmp_path):
    assert NAMES.exists(), "the page is not built: make page"
    wheel = zipfile.ZipFile(pack(HOUSE, "wheel", tmp_path))
    inside = set(wheel.namelist())
    for name in json.loads(NAMES.read_text(encoding="utf-8")).values():
        assert f"clochewright/web/static/{name}" in inside
    for name in ("icon.svg", "sorrel-yard.toml", "templates/base.html", "steps/cuts/step.html"):
        assert f"clochewright/web/{name}" in inside
    assert not [name for name in inside if "/ui/" in name or "node_modules" in name]


def test_a_wheel_from_an_sdist_needs_no_node(tmp_path):
    """The sdist carries the bundle, so the hook has nothing to build."""
    archive = pack(HOUSE, "sdist", tmp_path / "sdist")
    with tarfile.open(archive) as packed:
        if hasattr(tarfile, "data_filter"):  # from Python 3.11.4 on
            packed.extraction_filter = tarfile.data_filter
        packed.extractall(tmp_path / "open")
    (folder,) = (tmp_path / "open").iterdir()
    assert not (folder / WEB / "ui" / "node_modules").exists()
    wheel = zipfile.ZipFile(pack(folder, "wheel", tmp_path / "wheel"))
    assert "clochewright/web/static/names.json" in wheel.namelist()


@pytest.mark.slow
def test_the_page_is_built_with_no_node_on_the_path(tmp_path):
    folder = tmp_path / "house"
    ignored = shutil.ignore_patterns("node_modules", "static", ".venv", ".git", "__pycache__", "build")
    shutil.copytree(HOUSE, folder, ignore=ignored)
    bare = tmp_path / "bin"
    bare.mkdir()
    for name in ("sh", "env"):
        (bare / name).symlink_to(f"/usr/bin/{name}")
    environment = {**os.environ, "PATH": str(bare)}
    assert shutil.which("node", path=environment["PATH"]) is None
    subprocess.run([sys.executable, "hatch_build.py"], cwd=folder, env=environment, check=True)
    assert (folder / WEB / "static" / "names.json").exists()
