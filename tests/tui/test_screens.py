"""Start, pages, browser and panels over the session; hostile text; colours; what is loaded before the first paint."""

import ast
import asyncio
from pathlib import Path
from typing import Any

import pytest
from textual import events

import triage.tui
from triage.app.opening import Opening
from triage.errors import StoreUnavailable
from triage.present.cleaning import clean
from triage.tui.app import TriageApp

FACE = Path(triage.tui.__file__).parent
HOSTILE = "[@click=app.exit]go[/] [/red] \x1b]0;owned\x07 \x9b2J \u202edrow <b>x</b> \x00 [bold"
ENOUGH = 4.5


def contrast(one: Any, other: Any) -> float:
    """Contrast ratio of two colours as WCAG 2 defines it."""

    def light(colour: Any) -> float:
        parts = [part / 255 for part in colour.get_truecolor()]
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return float(0.2126 * red + 0.7152 * green + 0.0722 * blue)

    brighter, darker = sorted((light(one), light(other)), reverse=True)
    return (brighter + 0.05) / (darker + 0.05)


def faint(app: TriageApp) -> set[tuple[str, str, str]]:
    """What stands on the screen with too little contrast."""
    found = set()
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style
            if not segment.text.strip() or style is None or not style.color or not style.bgcolor:
                continue
            if all(letter in "▁▂▃▄▅▆▇█ " for letter in segment.text):
                continue
            pair = (style.bgcolor, style.color) if style.reverse else (style.color, style.bgcolor)
            if contrast(*pair) < ENOUGH or style.dim:
                found.add((segment.text, str(style.color), str(style.bgcolor)))
    return found


async def test_every_text_of_every_screen_has_contrast(bench: Any) -> None:
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.started(pilot)
        await bench.type(pilot, "99")
        assert not faint(pilot.app)
        await bench.open_session(pilot)
        assert not faint(pilot.app)
        await bench.type(pilot, "1", "4", "unknown", "4", "1", "1", "1", "note")
        assert not faint(pilot.app)
        for line in ("help", ""):
            await bench.type(pilot, "", line)
            assert not faint(pilot.app)
        for key in ("f3", "escape", "f4"):
            pilot.app.post_message(events.Key(key, None))
            await bench.settle(pilot)
            assert not faint(pilot.app)


async def test_hostile_text_is_inert_on_every_screen(bench: Any) -> None:
    app = bench.app()
    async with app.run_test(size=(120, 40)) as pilot:
        await bench.started(pilot)
        job = bench.begin(bench.knowledge, Opening(symptom="shutdown-buzz", job=HOSTILE, who=HOSTILE, words=HOSTILE))
        job.leave()
        await bench.type(pilot, "")
        await bench.type(pilot, "2")
        await bench.type(pilot, "[/red] [@click=app.exit]Ada[/]", "1", "note", "[bold][/red] [@click=app.exit]x[/]")
        painted = bench.painted(app)
        assert "[@click=app.exit]x[/]" in painted
        assert clean(painted) == painted
        await pilot.click("Conversation")
        await bench.type(pilot, "leave")
    async with bench.app().run_test(size=(120, 40)) as pilot:
        await bench.started(pilot)
        for line in ("3", "1", "2"):
            await bench.type(pilot, line)
        painted = bench.painted(pilot.app)
        assert "‹1B›]0;owned" in painted
        assert clean(painted) == painted


CLEANERS = ("clean", "clean_line")
PAINTED = ("border_title", "border_subtitle", "title", "sub_title", "tooltip", "placeholder", "content")
WIDGETS = ("Static", "Marked", "Input")
"""The widgets of the face; any other would have to be looked at first for what it does with text."""


def called(node: ast.AST) -> str:
    """The name that a call calls; empty for everything else."""
    return str(getattr(node.func, "id", getattr(node.func, "attr", ""))) if isinstance(node, ast.Call) else ""


def bypasses(source: str) -> list[int]:
    """Lines in which text reaches a screen past the cleaner, or by a way that nobody has looked at."""
    found = []
    node: Any
    for node in ast.walk(ast.parse(source)):
        name = called(node)
        if isinstance(node, ast.ImportFrom) and node.module:
            strange = [one.name for one in node.names if node.module == "textual.widgets" and one.name not in WIDGETS]
            bad = bool(strange) or node.module.split(".")[0] == "rich"
        elif name == "Content":
            bad = not isinstance(node.func, ast.Name) or not node.args or called(node.args[0]) not in CLEANERS
        elif name in ("Static", "Marked"):
            constant = all(isinstance(one, ast.Constant) for one in node.args)
            bad = not constant or not any(word.arg == "markup" for word in node.keywords)
        elif name == "update":
            bad = called(node.args[0]) != "Content"
        elif name in ("notify", "from_markup", "from_text", "from_rich_text", "assemble", "styled", "append", "bell"):
            bad = name != "append" or called(node.func.value) == "Content"
        elif isinstance(node, ast.Assign):
            goals = [goal.attr for goal in node.targets if isinstance(goal, ast.Attribute)]
            bad = bool(set(goals) & set(PAINTED)) and called(node.value) != "Content"
        else:
            bad = False
        found += [node.lineno] if bad else []
    return found


def test_every_text_of_the_face_passes_through_the_cleaner() -> None:
    for path in FACE.rglob("*.py"):
        assert not bypasses(path.read_text(encoding="utf-8")), path.name


@pytest.mark.parametrize(
    "line",
    [
        "Content(text)",
        "Content(clean_up(text))",
        "Content.from_markup(clean(text))",
        "Content.styled(text)",
        "Static(text, markup=False)",
        "Static('fixed')",
        "self.query_one(Static).update(text)",
        "self.border_title = text",
        "self.border_subtitle = f' {text} '",
        "app.notify(text)",
        "from textual.widgets import Label",
        "from rich.text import Text",
    ],
)
def test_a_text_that_bypasses_the_cleaner_is_found(line: str) -> None:
    assert bypasses(line) == [1]


def test_no_colours_or_styles_stand_in_python() -> None:
    for path in FACE.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert "DEFAULT_CSS" not in text
        assert "CSS =" not in text.replace("CSS_PATH =", "")


def test_the_app_class_stays_small() -> None:
    tree = ast.parse((FACE / "app.py").read_text(encoding="utf-8"))
    (app,) = [node for node in tree.body if isinstance(node, ast.ClassDef) and node.name == "TriageApp"]
    assert app.end_lineno is not None
    assert app.end_lineno - app.lineno < 100


async def test_a_fault_in_the_knowledge_ends_the_program_and_is_told(bench: Any) -> None:
    app = bench.app()
    fault = StoreUnavailable("The folder cannot be read.")

    def load() -> None:
        raise fault

    object.__setattr__(app._desk, "load", load)
    async with app.run_test() as pilot:
        for _ in range(100):
            if app.failure:
                break
            await pilot.pause(0.02)
    assert app.failure is fault


async def test_the_browser_walks_searches_and_goes_back(bench: Any) -> None:
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.open_session(pilot)
        pilot.app.post_message(events.Key("f4", None))
        await bench.settle(pilot)
        assert "Walk a tree without a vehicle" in bench.painted(pilot.app)
        await bench.type(pilot, str(list(bench.knowledge.trees).index("shutdown-buzz") + 1))
        assert "Buzz after switching off" in bench.painted(pilot.app)
        await bench.type(pilot, "bearing")
        assert "Search · bearing" in bench.painted(pilot.app)
        await bench.type(pilot, "0")
        assert "There is no such number" in bench.painted(pilot.app)
        await bench.type(pilot, "", "", "")
        assert "Before anything else" in bench.painted(pilot.app)


async def test_tapping_along_gives_the_rate_only_when_it_is_sure_enough(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        pilot.app.post_message(events.Key("f3", None))
        await bench.settle(pilot)
        first = events.Key("space", " ")
        for number in range(8):
            tap = events.Key("space", " ")
            tap.time = first.time + number * 0.25
            pilot.app.post_message(tap)
            if number == 3:
                pilot.app.post_message(events.Key("enter", "\r"))
                await bench.settle(pilot)
                assert "Still needed: 2 taps" in bench.painted(pilot.app)
        await bench.settle(pilot)
        assert "Rate: 4.00 Hz" in bench.painted(pilot.app)
        pilot.app.post_message(events.Key("enter", "\r"))
        await bench.settle(pilot)
        assert "Tapped: 4.000 ± 0.001 Hz" in bench.painted(pilot.app)


async def test_lines_typed_ahead_into_a_covered_screen_are_dropped(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        bench.burst(pilot.app, "1", "1", "1")
        await bench.settle(pilot)
        names = [type(screen).__name__ for screen in pilot.app.screen_stack]
        assert names == ["Welcome", "StartScreen", "OpeningScreen"]


async def test_any_saved_session_can_be_read_or_gone_on_with(bench: Any) -> None:
    for number in range(5):
        bench.begin(bench.knowledge, Opening(symptom="shutdown-buzz", job=f"J-{number}", who="Ada")).leave()
    async with bench.app().run_test(size=(60, 20)) as pilot:
        await bench.started(pilot)
        painted = bench.painted(pilot.app)
        assert painted.count("Go on: ") == 2
        assert "Shop file" in painted
        for line in ("4", "5"):
            await bench.type(pilot, line)
        assert "Go on with it" in bench.painted(pilot.app)
        await bench.type(pilot, "2")
        assert type(pilot.app.screen).__name__ == "Reader"
        for line in ("", "4", "5", "1"):
            await bench.type(pilot, line)
        assert type(pilot.app.screen).__name__ == "SessionScreen"


WAYS = {
    "StartScreen": ((), "From here a session is begun"),
    "OpeningScreen": (("1",), "A session starts with a symptom"),
    "Browser": (("4",), "The shipped trees"),
    "Player": (("3", "1"), "A saved session as it was lived"),
    "SessionScreen": (("1", "1", "it buzzes", "J-1", "Ada"), "At any moment, by word or by key:"),
}
"""The way from the start to each screen, and what its help begins with."""


@pytest.mark.parametrize("by", ["f1", "help"])
@pytest.mark.parametrize("name", list(WAYS))
async def test_every_screen_has_its_help_by_key_and_by_word(bench: Any, name: str, by: str) -> None:
    bench.demo_files = tuple(sorted((FACE.parents[1] / "transcripts_demo").glob("*.jsonl")))[:1]
    lines, about = WAYS[name]
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.started(pilot)
        for line in lines:
            await bench.type(pilot, line)
        assert type(pilot.app.screen).__name__ == name
        if by == "f1":
            pilot.app.post_message(events.Key("f1", None))
            await bench.settle(pilot)
        else:
            await bench.type(pilot, "help")
        assert about in bench.painted(pilot.app)
        await bench.type(pilot, "")
        assert type(pilot.app.screen).__name__ == name


@pytest.mark.parametrize("size", [(40, 12), (60, 20), (200, 60)])
async def test_the_start_serves_at_every_size(bench: Any, size: tuple[int, int]) -> None:
    async with bench.app().run_test(size=size) as pilot:
        await bench.started(pilot)
        await bench.settle(pilot)
        await asyncio.sleep(0)
        assert "triage" in bench.painted(pilot.app)
        await bench.open_session(pilot)
        assert bench.job.state.step.kind == "gate"
