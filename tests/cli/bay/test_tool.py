"""The command for the bay's arithmetic."""

import argparse
import json
import subprocess
import sys

import pytest

from triage.cli.bay import tool
from triage.errors import EXIT_OK, QuantityRefused


def run(*words: str) -> int:
    parser = argparse.ArgumentParser(prog="triage")
    tool.add(parser.add_subparsers())
    args = parser.parse_args(["tool", *words])
    code = args.run(args)
    assert isinstance(code, int)
    return code


def test_a_result_comes_with_the_title_of_its_source(capsys: pytest.CaptureFixture[str]) -> None:
    # US Army TM 1-1500-204-23-9, fig. 8-16, seen: 300 lbf·in over 10 and 4 in is 214.
    assert run("adapter-setting", "300 lbf·in", "10 in", "4 in") == EXIT_OK
    page = capsys.readouterr().out
    assert "setting = 214 lbf·in" in page
    assert "Source: US Navy NAVEDTRA 14315" in page


def test_json_gives_si_and_no_uncertainty_where_none_was_typed(capsys: pytest.CaptureFixture[str]) -> None:
    run("adapter-setting", "100 lbf·in", "12 in", "6 in", "--json")
    fields = json.loads(capsys.readouterr().out)
    assert fields == {
        "tool": "adapter-setting",
        "value": pytest.approx(66.6667 * 0.112984829, rel=1e-6),
        "uncertainty": None,
        "unit": "N·m",
    }


def test_json_is_refused_for_convert_with_what_to_do() -> None:
    with pytest.raises(QuantityRefused, match="convert has no --json") as refused:
        run("convert", "9in-lb", "Nm", "--json")
    assert refused.value.hint == "Leave --json out."


def test_an_offset_below_zero_is_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    run("entry-angle", "-2mm", "300 mm")
    assert "angle = −0.382°" in capsys.readouterr().out


def test_without_a_name_the_tools_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    run()
    assert "adapter-setting " in capsys.readouterr().out


def test_what_cannot_be_is_raised_for_the_error_boundary() -> None:
    with pytest.raises(QuantityRefused):
        run("rib-tension", "nothing", "6")


def test_adding_the_command_loads_no_unit_library() -> None:
    script = (
        "import argparse, sys; from triage.cli.bay import drive, tool; "
        "c = argparse.ArgumentParser().add_subparsers(); drive.add(c); tool.add(c); "
        "print(sorted({'pint', 'numpy', 'yaml', 'pydantic', 'networkx'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
