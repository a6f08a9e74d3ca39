from typing import TYPE_CHECKING

import pytest

from triage.knowledge.loading import load_knowledge
from triage.knowledge.walk import TreePlace, fits, walk

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld
    from triage.knowledge.models import Knowledge

ASKED: dict[str, tuple[str, ...]] = {"complaint": ("always",)}
LOOKED: dict[str, tuple[str, ...]] = {**ASKED, "belt-condition": ("sound",)}
HEARD: dict[str, tuple[str, ...]] = {**LOOKED, "whine-running": ("whines",)}


@pytest.fixture
def knowledge(world: "SmallWorld") -> "Knowledge":
    return load_knowledge(world.folder)


def walked(knowledge: "Knowledge", findings: dict[str, tuple[str, ...]], pulley: str = "solid") -> TreePlace:
    return walk(knowledge, knowledge.trees["whine-driving"], findings, pulley)


def test_without_findings_the_walk_stands_at_the_first_check(knowledge: "Knowledge") -> None:
    place = walked(knowledge, {})
    assert (place.node_id, place.node.check, place.path) == ("ask", "complaint", ())


def test_each_finding_leads_to_the_next_check_and_the_path_is_kept(knowledge: "Knowledge") -> None:
    place = walked(knowledge, LOOKED)
    assert (place.node_id, place.path) == ("listen", ("complaint", "belt-condition"))


def test_the_walk_ends_at_a_conclusion(knowledge: "Knowledge") -> None:
    place = walked(knowledge, {**ASKED, "belt-condition": ("torn",)})
    assert place.node.conclude == ("torn-belt",)


def test_a_check_that_could_not_be_done_leads_on(knowledge: "Knowledge") -> None:
    assert walked(knowledge, {**ASKED, "belt-condition": ()}).node.end == "undecided"


def test_the_pulley_type_decides_at_a_turn_without_a_question(knowledge: "Knowledge") -> None:
    assert walked(knowledge, HEARD, "decoupler").node_id == "drag"
    assert walked(knowledge, HEARD, "isolator").node_id == "unclear"


def test_a_check_that_does_not_fit_the_vehicle_is_passed_over(knowledge: "Knowledge") -> None:
    assert not fits(knowledge, "idler-drag", "unknown")
    assert walked(knowledge, HEARD, "unknown").node_id == "unclear"


def test_of_several_outcomes_the_one_that_takes_precedence_leads_on(knowledge: "Knowledge") -> None:
    assert walked(knowledge, {**ASKED, "belt-condition": ("cannot-tell", "torn")}).node_id == "belt"


def test_a_finding_taken_back_brings_the_walk_back_to_its_check(knowledge: "Knowledge") -> None:
    assert walked(knowledge, {key: value for key, value in HEARD.items() if key != "belt-condition"}).node_id == "look"


def test_findings_away_from_the_path_change_nothing(knowledge: "Knowledge") -> None:
    assert walked(knowledge, {**ASKED, "idler-drag": ("stuck",)}) == walked(knowledge, ASKED)


def test_a_tree_that_runs_in_a_circle_stops_with_an_error(knowledge: "Knowledge") -> None:
    tree = knowledge.trees["whine-driving"]
    look = tree.nodes["look"].model_copy(update={"next": {"sound": "look"}})
    circle = tree.model_copy(update={"nodes": {**tree.nodes, "look": look}})
    with pytest.raises(ValueError, match="circle"):
        walk(knowledge, circle, {**ASKED, "belt-condition": ("sound",)}, "solid")
