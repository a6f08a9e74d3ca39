"""The shop's own layouts: saved whole beside the shop file, found by their names."""

from pathlib import Path

import pytest

from triage.app.shop import own_layouts
from triage.drive.layout.placement import read_layout
from triage.drive.layout.shipped import layout_file as shipped_file
from triage.errors import StoreUnavailable, TriageError


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TRIAGE_HOME", str(tmp_path))
    return tmp_path


def test_a_saved_layout_reads_back_as_it_was_and_is_found_by_its_name(own_home: Path) -> None:
    layout = read_layout(shipped_file("four-cylinder-full"))
    file = own_layouts.save_layout("bay-three", layout)
    assert file == own_home / "layouts" / "bay-three.yaml"
    assert own_layouts.layout_file("bay-three") == file
    assert read_layout(file) == layout


def test_a_layout_is_never_written_over_another(own_home: Path) -> None:
    layout = read_layout(shipped_file("two-pulleys"))
    own_layouts.save_layout("bay-three", layout)
    before = (own_home / "layouts" / "bay-three.yaml").read_bytes()
    with pytest.raises(StoreUnavailable, match="there already"):
        own_layouts.save_layout("bay-three", read_layout(shipped_file("stretch-belt")))
    assert (own_home / "layouts" / "bay-three.yaml").read_bytes() == before


def test_what_there_is_is_named_where_a_name_is_not_known() -> None:
    own_layouts.save_layout("bay-three", read_layout(shipped_file("two-pulleys")))
    with pytest.raises(TriageError) as refused:
        own_layouts.layout_file("nowhere")
    assert "stretch-belt" in refused.value.hint
    assert "one of the shop's own: bay-three" in refused.value.hint


def test_names_that_are_taken_are_those_of_shop_and_program_and_reserved_words() -> None:
    own_layouts.save_layout("bay-three", read_layout(shipped_file("two-pulleys")))
    assert {"bay-three", "two-pulleys", "new", "run"} <= set(own_layouts.names_taken())
