"""What the house rules look at: the repository, its source files as syntax trees, and the declared arrows."""

from __future__ import annotations

import ast
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

REPOSITORY = Path(__file__).resolve().parents[2]
HOUSE = REPOSITORY / "src" / "clochewright"


@dataclass(frozen=True)
class Source:
    """One source file. `room` is its folder in the house, or its own name where it stands at the top."""

    path: Path
    room: str
    tree: ast.Module
    lines: int

    def at(self, node: ast.AST) -> str:
        """Where a node stands, for a message."""
        return f"{self.path.relative_to(REPOSITORY)}:{getattr(node, 'lineno', 1)}"


@pytest.fixture(scope="session")
def repository() -> Path:
    return REPOSITORY


@pytest.fixture(scope="session")
def rooms() -> dict[str, Path]:
    """Every room that stands today, by name: its folder."""
    return {folder.name: folder for folder in sorted(HOUSE.iterdir()) if any(folder.glob("*.py"))}


@pytest.fixture(scope="session")
def sources() -> list[Source]:
    found = []
    for path in sorted(HOUSE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        room = path.relative_to(HOUSE).parts[0].removesuffix(".py")
        found.append(Source(path, room, ast.parse(text, str(path)), text.count("\n")))
    return found


@pytest.fixture(scope="session")
def contracts() -> dict[str, dict[str, Any]]:
    """The arrows as pyproject.toml declares them, by id."""
    settings = tomllib.loads((REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))
    return {contract["id"]: contract for contract in settings["tool"]["importlinter"]["contracts"]}
