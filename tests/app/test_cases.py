"""Recorded cases walked over the shipped knowledge."""

from pathlib import Path

import pytest

from triage.app.cases import Walked, read_cases, walk_case
from triage.app.shop.shop_file import Shop, accuracies
from triage.errors import DocumentFaulty
from triage.knowledge.models import Knowledge
from triage.present.pages import session_page
from triage.record.events import CheckAnswered, FactTold, ReadingTaken

HEAD = "- id: one\n  symptom: shutdown-buzz\n"
DECOUPLER = "  vehicle: {cylinders: 4, specified_pulley: decoupler, odometer: 95k miles}\n"


def walked(knowledge: Knowledge, folder: Path, text: str) -> list[Walked]:
    file = folder / "cases.yaml"
    file.write_text(text, encoding="utf-8")
    instruments = accuracies(knowledge, Shop())
    return [walk_case(knowledge, case, instruments)[0] for case in read_cases(file, knowledge)]


def faults(knowledge: Knowledge, folder: Path, text: str) -> list[str]:
    with pytest.raises(DocumentFaulty) as refused:
        walked(knowledge, folder, text)
    return [str(fault).removeprefix(f"{folder}/") for fault in refused.value.faults]


def test_a_case_without_findings_is_normal_throughout_and_concludes_nothing(
    knowledge: Knowledge, tmp_path: Path
) -> None:
    (one,) = walked(knowledge, tmp_path, f"{HEAD}{DECOUPLER}  cause: []\n")
    assert (one.concluded, one.agrees) == ((), True)
    assert {"shutdown-listen", "clutch-by-hand"} <= set(one.checks)
    assert "overrun-torque" not in one.checks, "what the hand could tell is not measured"


def test_a_buzz_by_the_stopwatch_and_a_stiff_pulley_lead_to_the_pulley(knowledge: Knowledge, tmp_path: Path) -> None:
    found = "  findings: {shutdown-listen: about 7 s, overrun-torque: 25 in-lb, cap-contents: metal-shavings}\n"
    (one,) = walked(knowledge, tmp_path, f"{HEAD}{DECOUPLER}{found}  cause: [decoupler-bearing-worn]\n")
    assert one.agrees, one
    assert "shutdown-listen" in one.checks


def test_words_parts_and_lists_are_understood_alike(knowledge: Knowledge, tmp_path: Path) -> None:
    spellings = ("buzzing", "[buzzing]", "7", "7 s", "{time: 7 s}")
    cases = "".join(
        f"{HEAD.replace('one', f'case-{at}')}{DECOUPLER}  findings: {{shutdown-listen: {spelled}}}\n"
        for at, spelled in enumerate(spellings)
    )
    concluded = {(one.concluded, one.checks) for one in walked(knowledge, tmp_path, cases)}
    assert len(concluded) == 1


def test_a_reading_is_taken_in_the_way_whose_parts_are_given(knowledge: Knowledge, tmp_path: Path) -> None:
    head = HEAD.replace("shutdown-buzz", "belt-squeal")
    spellings = ("50 N", "{force: 50 N}", "50", "{note: 78.6 Hz, span: 340 mm, mass: 0.105 kg/m, ribs: 6}")
    cases = "".join(
        f"{head.replace('one', f'case-{at}')}  findings: {{span-tension: {spelled}}}\n"
        for at, spelled in enumerate(spellings)
    )
    assert {one.concluded for one in walked(knowledge, tmp_path, cases)} == {("tensioner-weak",)}


@pytest.mark.parametrize("told", ["{note: 78 Hz}", "{note: 78 Hz, force: 50 N}", "{span: 340 mm}"])
def test_a_way_that_is_not_whole_is_named_with_what_it_takes(knowledge: Knowledge, tmp_path: Path, told: str) -> None:
    (fault,) = faults(knowledge, tmp_path, f"{HEAD}  findings: {{span-tension: {told}}}\n")
    assert "{force: …} or {note: …, span: …, mass: …, ribs: …}" in fault


def test_another_cause_than_the_one_that_would_be_right_disagrees(knowledge: Knowledge, tmp_path: Path) -> None:
    found = "  findings: {shutdown-listen: buzzing}\n"
    (wrong,) = walked(knowledge, tmp_path, f"{HEAD}{DECOUPLER}{found}  cause: [belt-worn]\n")
    (missed,) = walked(knowledge, tmp_path, f"{HEAD}{DECOUPLER}  cause: [belt-worn]\n")
    (made_up,) = walked(knowledge, tmp_path, f"{HEAD}{DECOUPLER}{found}  cause: []\n")
    assert (wrong.agrees, missed.agrees, made_up.agrees) == (False, False, False)


def test_a_case_that_does_not_say_what_is_right_is_not_judged(knowledge: Knowledge, tmp_path: Path) -> None:
    (one,) = walked(knowledge, tmp_path, HEAD)
    assert one.agrees is None


def test_a_check_whose_tool_is_missing_is_not_done_and_takes_no_time(knowledge: Knowledge, tmp_path: Path) -> None:
    tool = knowledge.checks["bearing-listen"].tools[0]
    file = tmp_path / "cases.yaml"
    file.write_text(f"{HEAD}{DECOUPLER}  missing_tools: [{tool}]\n", encoding="utf-8")
    # One by one: a round takes less than its checks.
    apart = knowledge.model_copy(update={"rounds": {}})
    (case,) = read_cases(file, apart)
    one, job = walk_case(apart, case, accuracies(knowledge, Shop()))
    assert not job.state.findings["bearing-listen"].outcomes
    answered = (event for event in job.events if isinstance(event, CheckAnswered | ReadingTaken))
    done = [event.check for event in answered if isinstance(event, CheckAnswered) or event.outcome]
    assert one.minutes == sum(knowledge.checks[check].minutes for check in done)
    assert walk_case(knowledge, case, accuracies(knowledge, Shop()))[0].minutes < one.minutes


def test_everything_wrong_in_a_file_is_named_with_its_place(knowledge: Knowledge, tmp_path: Path) -> None:
    text = (
        "- id: one\n"
        "  symptom: no-such-noise\n"
        "  findings:\n"
        "    shutdown-listen: 7 volts\n"
        "    overrun-torque: 1,500 in-lb\n"
        "    belt-condition: purple\n"
        "    no-such-check: sound\n"
        "  missing_tools: [crystal-ball]\n"
        "  cause: [gremlins]\n"
    )
    named = faults(knowledge, tmp_path, text)
    places = {fault.split(": ")[0] for fault in named}
    assert {f"cases.yaml:{line}" for line in (2, 4, 5, 6, 7, 8, 9)} == {place.rpartition(":")[0] for place in places}


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("id: one\n", "cases.yaml:1:1"),
        ("- id: one\n", "cases.yaml:1:3"),
        (f"{HEAD}  colour: red\n", "cases.yaml:3:3"),
        (f"{HEAD}  vehicle: {{specified_pulley: square}}\n", "cases.yaml:3:31"),
    ],
)
def test_a_case_of_another_shape_is_refused_with_its_place(
    knowledge: Knowledge, tmp_path: Path, text: str, place: str
) -> None:
    assert any(fault.startswith(place) for fault in faults(knowledge, tmp_path, text)), faults(
        knowledge, tmp_path, text
    )


def test_an_odometer_that_cannot_be_understood_is_named_with_its_place(knowledge: Knowledge, tmp_path: Path) -> None:
    assert faults(knowledge, tmp_path, f"{HEAD}  vehicle: {{odometer: far}}\n")[0].startswith("cases.yaml:3:")


def test_a_check_whose_tool_is_missing_waits_for_no_cold_engine(knowledge: Knowledge, tmp_path: Path) -> None:
    case = "- {id: one, symptom: bearing-rumble, vehicle: {specified_pulley: solid}, missing_tools: [breaker-bar]}\n"
    (one,) = walked(knowledge, tmp_path, case)
    assert "belt-off-run" in one.checks


@pytest.mark.parametrize(
    ("found", "why"),
    [
        ("charging-voltage: -14 V", "leads are swapped"),
        ("battery-state: -12.8 V", "leads are swapped"),
        ("charging-ripple: -0.6 V", "never below zero"),
        (
            "belt-slip: {driver: 800 rpm, driven: 2000 rpm, driver-diameter: 60 mm, driven-diameter: 164 mm}",
            "−583 %: The driven pulley cannot run ahead",
        ),
    ],
)
def test_a_reading_that_cannot_be_right_is_a_fault_with_its_place(
    knowledge: Knowledge, tmp_path: Path, found: str, why: str
) -> None:
    (fault,) = faults(knowledge, tmp_path, f"{HEAD}  findings: {{{found}}}\n")
    assert fault.startswith("cases.yaml:3:")
    assert why in fault


def test_an_offset_to_either_side_is_the_same_fault(knowledge: Knowledge, tmp_path: Path) -> None:
    head = HEAD.replace("shutdown-buzz", "belt-chirp")
    cases = "".join(
        f"{head.replace('one', f'case-{at}')}  findings: {{alignment: {{offset: {offset} mm, span: 250 mm}}}}\n"
        for at, offset in enumerate((5, -5))
    )
    right, left = walked(knowledge, tmp_path, cases)
    assert right.concluded == left.concluded == ("pulley-misaligned",)


def test_an_outcome_is_read_under_the_id_that_it_had_before(knowledge: Knowledge, tmp_path: Path) -> None:
    spellings = ("leak", "[leak]", "drips-or-sprays")
    cases = "".join(
        f"{HEAD.replace('one', f'case-{at}')}  findings: {{fluid-leak: {spelled}}}\n  cause: []\n"
        for at, spelled in enumerate(spellings)
    )
    found = walked(knowledge, tmp_path, cases)
    assert {one.checks for one in found} == {found[0].checks}
    assert all(one.agrees and "shutdown-listen" not in one.checks for one in found)


def test_a_case_with_fuel_at_the_drive_ends_where_nothing_may_be_done(knowledge: Knowledge, tmp_path: Path) -> None:
    for symptom in ("low-charge", "belt-squeal"):
        head = f"- id: one\n  symptom: {symptom}\n"
        (one,) = walked(knowledge, tmp_path, f"{head}{DECOUPLER}  findings: {{fluid-leak: fuel}}\n  cause: []\n")
        assert one.agrees
        assert one.minutes < 30


def test_what_is_known_of_a_vehicle_is_told_where_its_session_asks(knowledge: Knowledge, tmp_path: Path) -> None:
    vehicle = (
        "  vehicle: {specified_pulley: solid, tightening: arm, drives: [alternator, water-pump, upper-idler], "
        "belts: 2, managed_charging: no, system_voltage: 24}\n"
    )
    file = tmp_path / "cases.yaml"
    file.write_text(f"- id: one\n  symptom: bearing-rumble\n{vehicle}", encoding="utf-8")
    (case,) = read_cases(file, knowledge)
    _, job = walk_case(knowledge, case, accuracies(knowledge, Shop()))
    told = {event.fact: event.value for event in job.events if isinstance(event, FactTold)}
    assert (told["drives"], told["tightening"], told["belts"]) == ("alternator water-pump", "arm", 2.0)
    page = session_page.page_of(knowledge, job.events, "")
    assert "what the belt drives: alternator, coolant pump" in page
    file.write_text(f"- id: one\n  symptom: low-charge\n{vehicle}", encoding="utf-8")
    (case,) = read_cases(file, knowledge)
    _, job = walk_case(knowledge, case, accuracies(knowledge, Shop()))
    assert job.state.facts["system_voltage"] == "24"


@pytest.mark.parametrize(
    ("vehicle", "fault"),
    [
        ("drives: [alternator, water-pmp]", "Did you mean 'water-pump'?"),
        ("managed_charging: maybe", ""),
        ("system_voltage: 42", "12, 24 or other"),
    ],
)
def test_what_a_vehicle_cannot_be_is_named(knowledge: Knowledge, tmp_path: Path, vehicle: str, fault: str) -> None:
    said = faults(knowledge, tmp_path, f"{HEAD}  vehicle: {{{vehicle}}}\n")
    assert said[0].startswith("cases.yaml:3:")
    assert fault in said[0]
