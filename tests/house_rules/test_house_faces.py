"""Other rooms import a room's face and nothing behind it."""

from __future__ import annotations

import ast


def imported(node):
    """The modules, or names in modules, that an import asks for, in full (ruff bans relative imports)."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        return [f"{node.module}.{alias.name}" for alias in node.names]
    return []


def offered(folder):
    """The names in the __all__ of a room's face."""
    face = folder / "__init__.py"
    for node in ast.parse(face.read_text(encoding="utf-8")).body if face.exists() else ():
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return set(ast.literal_eval(node.value))
    return set()


def is_module(folder, name):
    """Whether a name is a module of the room."""
    return (folder / f"{name}.py").exists() or (folder / name / "__init__.py").exists()


def test_every_room_has_a_face_that_names_what_it_offers(rooms):
    assert rooms
    silent = [room for room, folder in rooms.items() if not offered(folder)]
    assert not silent, f"rooms without an __init__.py that has an __all__: {silent}"


def test_rooms_are_entered_by_the_face(sources, rooms):
    behind = []
    for source in sources:
        for node in ast.walk(source.tree):
            for name in imported(node):
                root, room, first = [*name.split("."), "", ""][:3]
                if root != "clochewright" or room not in rooms or room == source.room:
                    continue
                if first and is_module(rooms[room], first) and first not in offered(rooms[room]):
                    behind.append(f"{source.at(node)} imports {name}")
    assert not behind, "imported past the face:\n" + "\n".join(behind)


def test_no_room_asks_its_own_face(sources, rooms):
    """A module that imports its own room's face closes a loop, since the face imports the module."""
    loops = []
    for source in sources:
        if source.room not in rooms or source.path.name == "__init__.py":
            continue
        for node in ast.walk(source.tree):
            if isinstance(node, ast.ImportFrom) and node.module == f"clochewright.{source.room}":
                names = [alias.name for alias in node.names if not is_module(rooms[source.room], alias.name)]
                loops += [f"{source.at(node)} imports {name} from its own face" for name in names]
    assert not loops, "\n".join(loops)
