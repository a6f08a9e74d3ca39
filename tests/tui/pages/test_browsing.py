"""Every place in the knowledge can be walked to, and a search finds checks, causes and remedies."""

from triage.knowledge.models import Knowledge
from triage.tui.pages.browsing import TREES, Spot, page_at


def test_every_node_of_every_tree_is_reached_by_numbers_alone(knowledge: Knowledge) -> None:
    seen: set[Spot] = set()
    ahead = [TREES]
    while ahead:
        spot = ahead.pop()
        if spot not in seen:
            seen.add(spot)
            ahead += [way.goal for way in page_at(knowledge, spot).ways]
    nodes = {(symptom, node) for symptom, tree in knowledge.trees.items() for node in tree.nodes}
    assert {(spot.tree, spot.id) for spot in seen if spot.kind == "node"} == nodes
    concluded = {cause for tree in knowledge.trees.values() for node in tree.nodes.values() for cause in node.conclude}
    assert concluded <= {spot.id for spot in seen if spot.kind == "cause"}


def test_a_search_finds_by_words_in_any_order_and_says_when_there_is_nothing(knowledge: Knowledge) -> None:
    cause = next(iter(knowledge.causes.values()))
    words = " ".join(reversed(cause.name.lower().split()))
    assert Spot("cause", cause.id) in [way.goal for way in page_at(knowledge, Spot("search", words)).ways]
    nothing = page_at(knowledge, Spot("search", "zzzz"))
    assert not nothing.ways
    assert "Nothing was found" in nothing.lines[0]


def test_only_the_numbers_of_the_page_name_a_way(knowledge: Knowledge) -> None:
    page = page_at(knowledge, TREES)
    assert page.way("1") == page.ways[0].goal
    for typed in ("0", str(len(page.ways) + 1), "²", "-1", "one", "", "9" * 50):
        assert page.way(typed) is None
