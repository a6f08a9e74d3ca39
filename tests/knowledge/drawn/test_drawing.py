from typing import TYPE_CHECKING

from triage.knowledge.drawn.drawing import draw
from triage.knowledge.loading import load_knowledge

if TYPE_CHECKING:
    from tests.knowledge.conftest import SmallWorld

DRAWN = """\
Whine while driving

1  Complaint (ask, 1 min, at the counter)
├ Never:
│   2  End: not reproduced
↓ All the time / Not sure / could not be done:
3  Belt condition (look, 2 min, Engine stopped)
├ Torn:
│   4  Cause: Torn belt
├ Cannot tell / could not be done:
│   5  End: undecided
│     Too little is known.
↓ Sound:
6  Whine with the engine running (listen, 3 min, Engine running)
├ Quiet:
│   → 2  End: not reproduced
↓ It whines / could not be done:
7  Which pulley is specified?
├ isolator / one way clutch:
│   → 5  End: undecided
↓ solid / decoupler / unknown:
8  Drag of the idler (measure, 5 min, Engine stopped)
├ Free:
│   9  End: not from the drive
├ Stiff / Will not turn:
│   10  Cause: Dry bearing
↓ could not be done / does not fit this vehicle:
→ 5  End: undecided
"""


def test_a_tree_is_drawn_as_indented_branches(world: "SmallWorld") -> None:
    knowledge = load_knowledge(world.folder)
    assert draw(knowledge, knowledge.trees["whine-driving"], 80) == DRAWN


def test_long_texts_are_wrapped_at_the_width_of_the_terminal(world: "SmallWorld") -> None:
    world.change("checks/idler.yaml", "name: Drag of the idler", f"name: {'drag of the idler ' * 12}")
    knowledge = load_knowledge(world.folder)
    lines = draw(knowledge, knowledge.trees["whine-driving"], 60).splitlines()
    assert max(map(len, lines)) <= 60
    assert sum("drag of" in line for line in lines) > 3
