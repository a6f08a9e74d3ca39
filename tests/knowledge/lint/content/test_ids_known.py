from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld


def test_a_state_that_is_named_twice_passes(world: "SmallWorld") -> None:
    world.passes("checks/belt.yaml", "state: running", "state: stopped")


def test_an_unknown_source_is_named_with_the_nearest(world: "SmallWorld") -> None:
    world.fails(
        "remedies.yaml",
        "sources: [trade-practice]",
        "sources: [¦trade-practise]",
        "There is no source 'trade-practise'. Did you mean 'trade-practice'?",
    )


def test_an_unknown_cause_of_a_sign_is_named_at_its_key(world: "SmallWorld") -> None:
    world.fails(
        "signs.yaml",
        "torn-belt: {present: usually",
        "¦torn-bel: {present: usually",
        "There is no cause 'torn-bel'. Did you mean 'torn-belt'?",
    )


def test_a_mistyped_engine_state_cannot_drop_a_confirmation(world: "SmallWorld") -> None:
    world.fails(
        "interlocks.yaml",
        "after: {engine: running}",
        "after: {engine: ¦runing}",
        "There is no engine state 'runing'. Did you mean 'running'?",
    )


def test_an_unknown_level_is_named(world: "SmallWorld") -> None:
    world.fails(
        "signs.yaml",
        "leak: {stiff: seldom}",
        "leak: {¦stif: seldom}",
        "There is no level 'stif'. Did you mean 'stiff'?",
    )


def test_an_unknown_node_is_named(world: "SmallWorld") -> None:
    world.change("symptoms/whine.yaml", "cannot: turn", "cannot: turn")
    world.fails(
        "symptoms/whine.yaml",
        "quiet: quiet, whines: turn",
        "quiet: quiet, whines: ¦tun",
        "There is no node 'tun'. Did you mean 'turn'?",
    )


def test_a_remedy_is_never_anywhere(world: "SmallWorld") -> None:
    world.fails(
        "remedies.yaml",
        "state: stopped",
        "state: ¦anywhere",
        "There is no vehicle state 'anywhere'. Known: stopped, running.",
    )


def test_an_unknown_kind_of_quantity_is_named(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml",
        "kind: torque\n",
        "kind: ¦torqe\n",
        "There is no kind of quantity 'torqe'. Did you mean 'torque'?",
    )


def test_a_zone_of_no_outcome_is_named(world: "SmallWorld") -> None:
    world.fails(
        "checks/idler.yaml", "- outcome: stuck", "- outcome: ¦stuk", "There is no outcome 'stuk'. Did you mean 'stuck'?"
    )


def test_a_cause_without_a_remedy_is_named(world: "SmallWorld") -> None:
    world.fails(
        "causes.yaml",
        "meaning: The grease is gone.\n    commonness: occasional\n    remedy: renew-belt",
        "meaning: The grease is gone.\n    commonness: occasional\n    remedy: ¦renew-idler",
        "There is no remedy 'renew-idler'. Did you mean 'renew-belt'?",
    )


LABOUR = """\
accesses:
  - {id: cover-off, name: Cover off, hours: {text: 5 min, source: trade-practice}}
remedies:
"""


def test_labour_that_is_there_is_shared(world: "SmallWorld") -> None:
    world.change("remedies.yaml", "remedies:\n", LABOUR)
    world.passes("remedies.yaml", "state: stopped", "state: stopped\n    access: [cover-off]\n    brings: [belt]")


def test_unknown_labour_is_named(world: "SmallWorld") -> None:
    world.change("remedies.yaml", "remedies:\n", LABOUR)
    world.fails(
        "remedies.yaml",
        "state: stopped",
        "state: stopped\n    access: [¦cover-of]",
        "There is no access 'cover-of'. Did you mean 'cover-off'?",
    )


def test_a_part_that_no_remedy_has_cannot_come_with_another(world: "SmallWorld") -> None:
    world.fails(
        "remedies.yaml",
        "state: stopped",
        "state: stopped\n    brings: [¦bell]",
        "There is no part of a remedy 'bell'. Did you mean 'belt'?",
    )
