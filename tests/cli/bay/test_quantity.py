"""The command that says how a typed reading is understood."""

import argparse
import json
import subprocess
import sys

import pytest

from triage.cli.bay import quantity
from triage.errors import EXIT_OK, QuantityRefused, QuantityUnclear


def run(*words: str) -> int:
    parser = argparse.ArgumentParser(prog="triage")
    quantity.add(parser.add_subparsers())
    args = parser.parse_args(["quantity", *words])
    code = args.run(args)
    assert isinstance(code, int)
    return code


@pytest.mark.parametrize(
    ("text", "kind", "unit"),
    [
        ("9 in-lb", "torque", "N·m"),
        ("60 rpm", "speed", "rev/s"),
        ("7", "time", "s"),
        ("3/16 in", "length", "m"),
        ("95k miles", "distance", "m"),
        ("450 mV", "voltage", "V"),
        ("68 F", "temperature", "K"),
        ("1.5°", "angle", "rad"),
        ("33 Hz", "frequency", "Hz"),
        ("5 lb", "force", "N"),
    ],
)
def test_json_has_kind_value_and_the_si_unit(
    text: str, kind: str, unit: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(text, "--as", kind, "--json") == EXIT_OK
    shown = capsys.readouterr()
    answer = json.loads(shown.out)
    assert list(answer) == ["kind", "value", "unit"]
    assert (answer["kind"], answer["unit"]) == (kind, unit)
    assert isinstance(answer["value"], float)
    assert unit in shown.out
    assert shown.err == ""


def test_people_get_the_reading_said_back(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("9 in-lb", "--as", "torque") == EXIT_OK
    assert capsys.readouterr().out == "9 lbf·in (1.02 N·m)\n"


@pytest.mark.parametrize(
    "words",
    [
        ("-5V", "--as", "voltage"),
        ("-5 V", "--as", "voltage"),
        ("-5", "--as", "voltage"),
        ("−5V", "--as", "voltage"),
        ("--as", "voltage", "-5V"),
        ("--as", "voltage", "--", "-5V"),
    ],
)
def test_a_reading_may_start_with_a_minus(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(*words, "--json") == EXIT_OK if "--" not in words else run("--json", *words) == EXIT_OK
    assert json.loads(capsys.readouterr().out)["value"] == -5.0


def test_what_is_refused_or_asked_back_prints_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(QuantityRefused):
        run("9 lb", "--as", "torque")
    with pytest.raises(QuantityUnclear):
        run("1,500 Nm", "--as", "torque")
    with pytest.raises(QuantityRefused, match="torque, speed"):
        run("9", "--as", "colour")
    assert capsys.readouterr().out == ""


def test_the_kind_has_to_be_given(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("9")
    assert stopped.value.code == 2
    assert "--as" in capsys.readouterr().err


def test_adding_the_command_loads_no_quantities() -> None:
    program = (
        "import argparse, sys; from triage.cli.bay import quantity;"
        "quantity.add(argparse.ArgumentParser().add_subparsers()); sys.exit('triage.units' in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
