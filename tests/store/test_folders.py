import os
from pathlib import Path

import pytest

from triage.store import data_folder, shop_file_path


def test_a_shop_may_name_its_own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    assert data_folder() == tmp_path
    assert shop_file_path().parent == tmp_path


def test_a_relative_folder_does_not_move_with_the_program(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TRIAGE_HOME", "jobs")
    assert data_folder() == tmp_path / "jobs"


@pytest.mark.skipif(os.name == "nt", reason="Windows asks its registry")
@pytest.mark.parametrize("home", [None, ""])
def test_otherwise_the_operating_system_says_where(
    home: str | None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("TRIAGE_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    if home is not None:
        monkeypatch.setenv("TRIAGE_HOME", home)
    assert data_folder().name == "triage"
    assert tmp_path in data_folder().parents
