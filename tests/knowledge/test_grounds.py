"""Which findings are grounds for a conclusion, on the shipped trees."""

from triage.knowledge.grounds import grounds
from triage.knowledge.loading import load_knowledge
from triage.knowledge.shipped import trees_folder

SHIPPED = load_knowledge(trees_folder())
BUZZ = grounds(SHIPPED, SHIPPED.trees["shutdown-buzz"])


def test_a_rough_ring_is_a_ground_for_its_bearing() -> None:
    assert "decoupler-bearing-worn" in BUZZ["spin-decoupler-ring"]["rough"]
    assert not BUZZ["spin-decoupler-ring"]["smooth"]


def test_a_run_without_the_belt_and_what_sounds_after_it_are_grounds_for_a_noise_from_elsewhere() -> None:
    makers = {check for check, told in BUZZ.items() if any("noise-not-from-drive" in some for some in told.values())}
    assert makers == {"belt-off-run", "shutdown-listen"}


def test_what_was_only_told_is_no_ground() -> None:
    assert not any(BUZZ["when-heard"].values())


def test_what_the_author_lets_pass_is_no_ground() -> None:
    thrown = grounds(SHIPPED, SHIPPED.trees["belt-thrown"])
    chirp = grounds(SHIPPED, SHIPPED.trees["belt-chirp"])
    assert "pulley-misaligned" in thrown["alignment"]["misaligned"]
    assert not thrown["alignment"]["borderline"]
    assert "pulley-misaligned" in chirp["alignment"]["borderline"]


def test_an_outcome_is_a_ground_for_what_is_concluded_on_its_own_way_without_another_word() -> None:
    flutter = grounds(SHIPPED, SHIPPED.trees["tensioner-flutter"])
    assert flutter["arm-motion"]["fluttering"] == {"tensioner-damping-worn"}
    assert not flutter["arm-motion"]["lively"]
    # A fluttering arm may lead to a slack span, but there the tension is what speaks for a weak tensioner.
    assert "tensioner-weak" in flutter["span-tension"]["low"]


def test_a_check_without_which_nothing_is_concluded_speaks_though_another_has_the_last_word() -> None:
    squeal = grounds(SHIPPED, SHIPPED.trees["belt-squeal"])
    # A drain is looked for only where the tester calls the battery empty; the clamp has the last word.
    assert "drain-at-rest" in squeal["battery-tester"]["weak-charge-and-test-again"]
