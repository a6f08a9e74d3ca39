"""What an installation and a source archive bring along."""

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def built(target: str, folder: Path) -> Path:
    """Build with the backend that pip would ask, and without fetching anything."""
    command = [sys.executable, "-m", "hatchling", "build", "-t", target, "-d", str(folder)]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120)
    assert told.returncode == 0, told.stdout + told.stderr
    (file,) = folder.iterdir()
    return file


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, unpacked as an installer does it."""
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(built("wheel", tmp_path_factory.mktemp("wheel"))) as wheel:
        wheel.extractall(folder)  # noqa: S202 - built a line before
    return folder


@pytest.mark.parametrize("page", ["safety.md", "shop-example.yaml"])
def test_the_wheel_brings_the_pages_that_a_user_needs_at_hand(page: str, installed: Path) -> None:
    assert (installed / "triage" / "data" / "docs" / page).read_bytes() == (ROOT / "docs" / page).read_bytes()


def test_the_wheel_brings_trees_and_demos_and_nothing_of_the_workshop(installed: Path) -> None:
    assert (installed / "triage" / "data" / "trees" / "interlocks.yaml").is_file()
    assert list((installed / "triage" / "data" / "transcripts_demo").glob("*.jsonl"))
    assert {path.name for path in installed.iterdir()} == {"triage", "triage-0.1.0.dist-info"}
    assert {path.name for path in (installed / "triage" / "data" / "docs").iterdir()} == {
        "safety.md",
        "shop-example.yaml",
    }


def test_an_installed_program_says_where_its_pages_are(installed: Path, tmp_path: Path) -> None:
    def said(*words: str) -> str:
        environment = {**os.environ, "PYTHONPATH": str(installed), "TRIAGE_HOME": str(tmp_path)}
        command = [sys.executable, *words]
        return subprocess.run(
            command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=True, timeout=60
        ).stdout

    pages = installed / "triage" / "data" / "docs"
    assert str(pages) in said("-m", "triage", "--help")
    assert str(pages / "shop-example.yaml") in said(
        "-c", "from triage.cli.face import desk; print(*desk().shop(), sep='\\n')"
    )


def test_the_source_archive_brings_all_that_its_developers_page_names(tmp_path: Path) -> None:
    with tarfile.open(built("sdist", tmp_path)) as archive:
        members = {name.partition("/")[2]: archive.getmember(name) for name in archive.getnames()}
    assert members[".ci/run"].mode & 0o100
    assert members.keys() >= {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "requirements.lock"}
    assert members.keys() >= {"triage/__main__.py", "trees/interlocks.yaml", "docs/index.md", "tests/test_packaging.py"}
