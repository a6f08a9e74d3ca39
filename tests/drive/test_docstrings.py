"""Every public function of the drive says what it raises, and of figures what they are, in which unit, and whose."""

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator

import pint
import pytest
import yaml

import triage.drive
from triage.knowledge.shipped import trees_folder

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
FREE_OF_UNITS = {"1", "SI"}
SECTION = re.compile(r"^(Args|Returns|Raises|Source): *(.*)$")


def public_functions() -> Iterator[Callable[..., object]]:
    for found in pkgutil.walk_packages(triage.drive.__path__, "triage.drive."):
        module = importlib.import_module(found.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not name.startswith("_"):
                yield function


def sections(function: Callable[..., object]) -> dict[str, str]:
    found, current = {"": ""}, ""
    for line in (inspect.getdoc(function) or "").splitlines():
        heading = SECTION.match(line)
        if heading:
            current = heading[1]
            found[current] = heading[2]
        else:
            found[current] += f"\n{line}"
    return found


def described(args: str) -> dict[str, str]:
    """Each argument with its text, continued lines joined."""
    found: dict[str, str] = {}
    name = ""
    for line in args.splitlines():
        start = re.match(r"^ {4}(\w+): (.*)$", line)
        if start:
            name = start[1]
            found[name] = start[2]
        elif name and line.strip():
            found[name] += " " + line.strip()
    return found


def figures_in(annotation: object) -> bool:
    said = annotation if isinstance(annotation, str) else inspect.formatannotation(annotation)
    return bool(re.search(r"\bfloat\b|\bint\b|NDArray|float64", said)) and "Formula" not in said


def has_figures(function: Callable[..., object]) -> bool:
    """Whether it takes or gives figures, or works with them: what only reads or writes words names no source."""
    signature = inspect.signature(function)
    annotations = [signature.return_annotation, *(one.annotation for one in signature.parameters.values())]
    return any(map(figures_in, annotations)) or "Source" in sections(function)


EVERY = list(public_functions())
FUNCTIONS = [function for function in EVERY if has_figures(function)]
SOURCES = {
    source["id"] for source in yaml.safe_load((trees_folder() / "sources.yaml").read_text(encoding="utf-8"))["sources"]
}


def test_there_are_functions_to_check() -> None:
    assert len(FUNCTIONS) > 40


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: f"{function.__module__}.{function.__name__}")
def test_every_argument_and_result_is_described_with_its_unit(function: Callable[..., object]) -> None:
    doc, signature = sections(function), inspect.signature(function)
    args = described(doc.get("Args", ""))
    assert list(args) == list(signature.parameters)
    for name, parameter in signature.parameters.items():
        if figures_in(parameter.annotation):
            assert re.search(r"\[[^\]]+\]\.$", args[name]), f"{name} lacks its unit"
    assert doc["Returns"].strip()
    if figures_in(signature.return_annotation):
        assert re.search(r"\[[^\]]+\]\.$", doc["Returns"].strip()), "the result lacks its unit"


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: f"{function.__module__}.{function.__name__}")
def test_every_unit_in_brackets_is_one(function: Callable[..., object]) -> None:
    for unit in re.findall(r"\[([^\]]+)\]", inspect.getdoc(function) or ""):
        if unit not in FREE_OF_UNITS:
            REGISTRY.parse_units(unit.replace("·", "*").replace("²", "**2").replace("rev", "turn"))


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: f"{function.__module__}.{function.__name__}")
def test_every_source_is_in_the_list(function: Callable[..., object]) -> None:
    keys = {key.strip() for key in sections(function)["Source"].split(",")}
    assert keys <= SOURCES


@pytest.mark.parametrize("function", EVERY, ids=lambda function: f"{function.__module__}.{function.__name__}")
def test_what_a_function_raises_itself_it_says(function: Callable[..., object]) -> None:
    tree = ast.parse(inspect.getsource(function))
    raised = {
        node.exc.func.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name)
    }
    said = sections(function).get("Raises", "")
    assert all(f"{name}:" in said for name in raised)
