"""The lock file holds every package that an installation takes, within the declared ranges, each with its hashes."""

import importlib.metadata
import platform
import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
DECLARED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
PYTHONS = ("3.11.0", "3.12.0", "3.13.0")


def pins() -> list[tuple[Requirement, list[str]]]:
    """Each pinned package with its hashes."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line.partition("#")[0].strip() for line in text.splitlines()]
    found = []
    for line in filter(None, lines):
        requirement, *hashes = re.split(r"\s+--hash=", line)
        found.append((Requirement(requirement), hashes))
    return found


def pinned(python: str) -> dict[str, str]:
    """The one version of each package that a Python takes."""
    here = {"python_full_version": python, "python_version": python.rpartition(".")[0]}
    versions: dict[str, str] = {}
    for requirement, _ in pins():
        if requirement.marker is None or requirement.marker.evaluate(here):
            name = canonicalize_name(requirement.name)
            assert name not in versions, f"{name} stands twice for Python {python}"
            (exact,) = requirement.specifier
            assert exact.operator == "=="
            versions[name] = exact.version
    return versions


@pytest.mark.parametrize("python", PYTHONS)
def test_every_declared_dependency_is_locked_within_its_range(python: str) -> None:
    versions = pinned(python)
    for requirement in map(Requirement, DECLARED):
        assert requirement.specifier.contains(versions[canonicalize_name(requirement.name)]), requirement


def test_every_locked_package_has_the_hashes_of_its_files() -> None:
    for requirement, hashes in pins():
        assert hashes, requirement
        assert all(re.fullmatch("sha256:[0-9a-f]{64}", one) for one in hashes), requirement


def test_what_the_dependencies_need_themselves_is_locked_too() -> None:
    """Followed through what is installed here in the locked version: another may need something else."""
    locked = {canonicalize_name(requirement.name) for requirement, _ in pins()}
    versions = pinned(platform.python_version())
    waiting = [canonicalize_name(Requirement(text).name) for text in DECLARED]
    needed: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in needed:
            continue
        needed.add(name)
        if importlib.metadata.version(name) != versions.get(name):
            continue
        for text in importlib.metadata.requires(name) or ():
            requirement = Requirement(text)
            if requirement.marker is None or requirement.marker.evaluate({"extra": ""}):
                waiting.append(canonicalize_name(requirement.name))
    assert needed <= locked
