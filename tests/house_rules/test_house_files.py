"""Files are short, and say nothing of the machine or the place that they were written on."""

from __future__ import annotations

import re
import tomllib

LONGEST = 500  # lines

NOT_OURS = {".git", ".venv", "build", "dist", "node_modules", "__pycache__", ".hypothesis", ".benchmarks"}

# Addresses of package registries, folders of one machine, and what is no source. Spelt so that this file passes.
NEVER = re.compile(
    r"pypi[.]org|python[h]osted|registry[.]npm|deb[.]debian[.]org|/wor[k]/|/far[m]/|/tm[p]/|/roo[t]/|/hom[e]/|trans[c]ript",
    re.IGNORECASE,
)


def texts(folder):
    """Every text file under a folder, but for what tools make."""
    for path in sorted(folder.iterdir()):
        if path.name in NOT_OURS or path.name.endswith(("_cache", ".egg-info")):
            continue
        if path.is_dir():
            yield from texts(path)
        elif path.is_file():
            try:
                yield path, path.read_text(encoding="utf-8")
            except UnicodeDecodeError:
                continue  # a font or a picture


def test_no_source_file_is_too_long(sources):
    long = [f"{source.at(source.tree)} has {source.lines} lines" for source in sources if source.lines > LONGEST]
    assert not long, f"split what is past {LONGEST} lines:\n" + "\n".join(long)


def test_nothing_names_a_registry_or_a_machine(repository):
    found = []
    for path, text in texts(repository):
        for number, line in enumerate(text.splitlines(), 1):
            if match := NEVER.search(line):
                found.append(f"{path.relative_to(repository)}:{number} says {match.group()}")
    assert not found, "\n".join(found)


def test_the_locks_are_hashed_and_name_no_index(repository):
    for name in ("requirements.lock", "requirements-dev.lock"):
        lines = (repository / name).read_text(encoding="utf-8").splitlines()
        pins = [line for line in lines if line and not line.startswith((" ", "#"))]
        assert pins
        assert all(re.match(r"[a-z0-9-]+==\S+ .*\\$", pin) for pin in pins), f"{name}: a line without pin and hash"
        options = [line for line in lines if line.strip().startswith("--") and "--hash=sha256:" not in line]
        assert not options, f"{name}: {options}"


def test_what_is_tested_is_what_runs(repository):
    def pins(name):
        text = (repository / name).read_text(encoding="utf-8")
        return set(re.findall(r"^[a-z0-9-]+==.*(?= \\$)", text, re.MULTILINE))

    assert pins("requirements.lock") <= pins("requirements-dev.lock")


def test_the_locks_hold_everything_that_is_asked_for(repository):
    asked = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))
    groups = asked["dependency-groups"]
    develop = [name for name in groups["dev"] if isinstance(name, str)]
    run = asked["project"]["dependencies"] + groups["build"]
    for lock, wanted in (("requirements.lock", run), ("requirements-dev.lock", run + develop)):
        text = (repository / lock).read_text(encoding="utf-8")
        names = [re.match(r"[a-z0-9-]+", name).group() for name in wanted]
        missing = [name for name in names if not re.search(rf"^{name}==", text, re.MULTILINE)]
        assert not missing, f"{lock} has no {missing}; run make locks"
