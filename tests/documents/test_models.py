"""Models out of documents: strict, frozen, and with a fault at the place of everything that does not fit."""

import json
from enum import Enum
from typing import Annotated, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field, RootModel, ValidationError, field_validator, model_validator
from pydantic_core import PydanticCustomError

from triage.documents import Model, build, rebuild
from triage.documents.faults import FAULTS_SHOWN
from triage.documents.reading import read_text
from triage.errors import DocumentFaulty


class Belt(Enum):
    """Where the belt is."""

    ON = "on"
    OFF = "off"


class Reading(Model):
    """A branch whose tag is also the name of one of its keys."""

    kind: Literal["reading"]
    reading: float
    steps: tuple[str, ...] = ()


class Look(Model):
    """The other branch."""

    kind: Literal["look"]
    minutes: Annotated[int, Field(gt=0)] = 1
    reading: Reading | None = None


class Check(Model):
    """Something of everything."""

    id: str
    belt: Belt = Belt.ON
    state: Literal["stopped", "running"] = "stopped"
    asked: bool = False
    limits: tuple[float, float] = (0.0, 1.0)
    found: str | tuple[str, ...] | dict[str, str] = ""
    way: Annotated[Reading | Look, Field(discriminator="kind")] | None = None
    ways: dict[str, tuple[Annotated[Reading | Look, Field(discriminator="kind")], ...]] = Field(default_factory=dict)
    inside: tuple["Check", ...] = ()
    either: Reading | Look | None = None
    mixed: str | Annotated[Reading | Look, Field(discriminator="kind")] = ""
    pair: tuple[Look, Reading] | None = None

    @field_validator("id")
    @classmethod
    def _no_spaces(cls, text: str) -> str:
        if " " in text:
            raise ValueError("An id has no spaces.")
        if text == "taken":
            raise PydanticCustomError("taken", "There is one already")
        return text

    @model_validator(mode="after")
    def _in_order(self) -> "Check":
        if self.limits[0] > self.limits[1]:
            raise ValueError("The lower limit comes first.")
        return self


class Checks(RootModel[tuple[Check, ...]]):
    """A document that is a list."""


def faults(text: str, model: type[Model] | type[Checks] = Check, path: tuple[str | int, ...] = ()) -> list[str]:
    """Each fault on one line, without the name of the file."""
    with pytest.raises(DocumentFaulty) as refused:
        build(read_text(text, "f"), model, path)
    return [str(fault).removeprefix("f:") for fault in refused.value.faults]


def test_lists_become_tuples_and_words_become_members() -> None:
    text = """\
id: look
belt: "off"
state: running
asked: true
limits: [1, 2.5]
found: {a: b}
way: {kind: reading, reading: 3}
ways:
  first:
  - {kind: look, minutes: 2}
"""
    assert build(read_text(text, "f"), Check) == Check(
        id="look",
        belt=Belt.OFF,
        state="running",
        asked=True,
        limits=(1.0, 2.5),
        found={"a": "b"},
        way=Reading(kind="reading", reading=3.0),
        ways={"first": (Look(kind="look", minutes=2),)},
    )


def test_a_part_of_a_document_is_built_by_its_path() -> None:
    document = read_text("checks:\n- id: a\n- id: b\n", "f")
    assert build(document, Check, ("checks", 1)) == Check(id="b")


def test_a_document_that_is_a_list_is_built_by_a_root_model() -> None:
    assert build(read_text("- id: a\n- id: b\n", "f"), Checks).root == (Check(id="a"), Check(id="b"))
    assert faults("- id: a\n- id: b\n  blet: x\n", Checks) == ["3:3: [2] has no key 'blet'. Did you mean 'belt'?"]


@pytest.mark.parametrize(
    ("path", "fault"),
    [
        (("check",), "1:1: The document lacks the key 'check'."),
        (("checks", 2), "1:1: checks lacks item 3."),
        (("checks", -1), "1:1: checks lacks item 0."),
        (("checks", 0, "id", 0), "2:3: checks[1].id lacks item 1."),
    ],
)
def test_a_part_that_is_not_there_is_a_fault(path: tuple[str | int, ...], fault: str) -> None:
    assert faults("checks:\n- id: a\n", Check, path) == [fault]


def test_every_fault_is_named_in_reading_order_under_the_path_of_its_part() -> None:
    text = """\
checks:
  a:
    belt: "of"
    state: runing
    asked: "true"
    limits: [1, "2"]
    colour: red
    stat: stopped
    found: 5
"""
    assert faults(text, Check, ("checks", "a")) == [
        "2:3: checks.a lacks the key 'id'.",
        "3:11: checks.a.belt should be 'on' or 'off', not 'of'. Did you mean 'off'?",
        "4:12: checks.a.state should be 'stopped' or 'running', not 'runing'. Did you mean 'running'?",
        "5:12: checks.a.asked should be true or false, not 'true'. Leave out the quotes.",
        "6:17: checks.a.limits[2] should be a number, not '2'. Leave out the quotes.",
        f"7:5: checks.a has no key 'colour'. It may have: {', '.join(Check.model_fields)}.",
        "8:5: checks.a has no key 'stat'. Did you mean 'state'?",
        "9:12: checks.a.found should be text or a list or keys with values, not 5. Put it in quotes.",
    ]


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("id: 5", "1:5: id should be text, not 5. Put it in quotes."),
        ("id: a b", "1:5: id: An id has no spaces."),
        ("id: taken", "1:5: id: There is one already."),
        ("id:", "1:4: id should be text, not nothing."),
        ("{id: a, asked: 1}", "1:16: asked should be true or false, not 1."),
        ("{id: a, limits: [2, 1]}", "1:1: The document: The lower limit comes first."),
        ("{id: a, limits: [2]}", "1:9: limits lacks item 2."),
        ("{id: a, limits: [0, 1, 2]}", "1:17: limits should have at most 2 items, not 3."),
        ("{id: a, limits: 2}", "1:17: limits should be a list, not 2."),
        ("{id: a, found: [b, 5]}", "1:20: found[2] should be text, not 5. Put it in quotes."),
        ("{id: a, found: {b: [c]}}", "1:20: found.b should be text, not a list."),
        ("{id: a, way: {}}", "1:9: way lacks the key 'kind'."),
        (
            "{id: a, way: {kind: loook}}",
            "1:21: way.kind should be one of 'reading', 'look', not 'loook'. Did you mean 'look'?",
        ),
        (
            "{id: a, way: {kind: reading, readng: 1, reading: 2}}",
            "1:30: way has no key 'readng'. Did you mean 'reading'?",
        ),
        ("{id: a, way: {kind: reading, reading: x}}", "1:39: way.reading should be a number, not 'x'."),
        ("{id: a, way: {kind: look, minutes: 0}}", "1:36: way.minutes should be greater than 0, not 0."),
        ("{id: a, way: {kind: look, minutes: 1e0}}", "1:36: way.minutes should be a whole number, not 1.0."),
        (
            "{id: a, way: {kind: look, reading: {kind: reading, reading: 1, step: []}}}",
            "1:64: way.reading has no key 'step'. Did you mean 'steps'?",
        ),
        (
            "{id: a, ways: {b: [{kind: look, minute: 1}]}}",
            "1:33: ways.b[1] has no key 'minute'. Did you mean 'minutes'?",
        ),
        (
            "{id: a, inside: [{id: b, inside: [{id: c, blet: x}]}]}",
            "1:43: inside[1].inside[1] has no key 'blet'. Did you mean 'belt'?",
        ),
        ("{id: a, inside: [b]}", "1:18: inside[1] should be keys with values, not 'b'."),
        (
            "{id: a, pair: [{kind: look}, {kind: reading, reading: 1, stesp: []}]}",
            "1:58: pair[2] has no key 'stesp'. Did you mean 'steps'?",
        ),
        ("{id: a, mixed: {kind: look, minute: 1}}", "1:29: mixed has no key 'minute'. Did you mean 'minutes'?"),
        ("[]", "1:1: The document should be keys with values, not a list."),
        ("", "1:1: The document should be keys with values, not nothing."),
    ],
)
def test_what_does_not_fit_is_said_with_what_would(line: str, fault: str) -> None:
    assert faults(line) == [fault]


def test_branches_without_a_tag_are_all_named_and_what_they_share_once() -> None:
    assert faults("{id: a, either: {}}") == [
        "1:9: either lacks the key 'kind'.",
        "1:9: either lacks the key 'reading'.",
    ]


def test_numbers_that_are_not_finite_are_refused() -> None:
    with pytest.raises(DocumentFaulty, match=r"limits\[1\] should be a finite number, not nan\."):
        rebuild(Check, {"id": "a", "limits": [float("nan"), 1.0]})


def test_control_characters_of_foreign_data_do_not_come_through() -> None:
    with pytest.raises(DocumentFaulty) as refused:
        rebuild(Check, {"id": "a", "\x1b[2J": 1, "state": "\x1b]0;x\x07"})
    assert str(refused.value).replace("\n", "").isprintable()


def test_a_thousand_unknown_keys_give_a_list_that_ends() -> None:
    found = faults("id: a\n" + "".join(f"key{n}: 1\n" for n in range(1000)))
    assert len(found) == FAULTS_SHOWN + 1


def test_models_cannot_be_changed() -> None:
    with pytest.raises(ValidationError):
        Check.__setattr__(Check(id="a"), "id", "b")


TEXT = st.text(st.characters(codec="utf-8"))
LOOKS = st.builds(Look, kind=st.just("look"), minutes=st.integers(1, 10**9))
READINGS = st.builds(
    Reading,
    kind=st.just("reading"),
    reading=st.floats(allow_nan=False, allow_infinity=False),
    steps=st.lists(TEXT, max_size=3).map(tuple),
)
CHECKS = st.builds(
    Check,
    id=TEXT.map(lambda text: text.replace(" ", "")),
    belt=st.sampled_from(Belt),
    asked=st.booleans(),
    found=TEXT | st.lists(TEXT, max_size=3).map(tuple) | st.dictionaries(TEXT, TEXT, max_size=3),
    way=st.none() | LOOKS | READINGS,
    ways=st.dictionaries(TEXT, st.lists(LOOKS | READINGS, max_size=3).map(tuple), max_size=2),
)


@given(CHECKS)
def test_a_model_comes_back_from_json_as_it_was(check: Check) -> None:
    line = json.dumps(check.model_dump(mode="json"), allow_nan=False)
    assert rebuild(Check, json.loads(line)) == check


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.sampled_from(list(Check.model_fields)) | st.text(), inner),
)


@given(JSON)
def test_foreign_data_is_rebuilt_or_refused(data: object) -> None:
    places = {"line 7:1:1"}
    try:
        rebuild(Check, data, name="line 7")
    except DocumentFaulty as refused:
        places = {str(fault.place) for fault in refused.faults}
    assert places == {"line 7:1:1"}


def deep(levels: int) -> object:
    data: object = []
    for _ in range(levels):
        data = [data]
    return data


@pytest.mark.parametrize("data", [deep(500), deep(100_000), {"id": "\ud800"}, {"id": 10**5000}, {"id": float("nan")}])
def test_data_that_is_no_proper_json_is_refused(data: object) -> None:
    with pytest.raises(DocumentFaulty):
        rebuild(Check, data)
