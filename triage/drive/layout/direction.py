"""Which way a drive runs: from the way the engine turns, seen from the pulley end, or else from how it was listed."""

from collections.abc import Iterator

from triage.drive.mechanics.geometry import BeltPath
from triage.record.layout import Layout

CRANK_TURN = {"anticlockwise": 1, "clockwise": -1}
"""Each way as the geometry counts it."""
TURN_NAMES = {turn: name for name, turn in CRANK_TURN.items()}


def backwards(layout: Layout) -> Layout:
    """List the pulleys the other way round, the crank first."""
    first, *others = layout.pulleys
    return layout.model_copy(update={"pulleys": (first, *reversed(others))})


def direction_said(layout: Layout, route: BeltPath | None, *, against: bool) -> Iterator[str]:
    """Say how the running direction was found, where anything was taken for granted or turned round."""
    parts = ", ".join(pulley.part for pulley in layout.pulleys)
    if against:
        yield (
            f"The pulleys are listed against the engine's turn ({layout.engine.turns}). In running direction, as here, "
            f"they are {parts}."
        )
    elif layout.engine.turns is None and route is not None:
        yield (
            "engine.turns is not given: the listed order is taken as the running direction, "
            f"the crank {TURN_NAMES[route.turns[0]]} seen from the pulley end."
        )


def counted_as_solid(layout: Layout) -> Iterator[str]:
    """Name pulleys with a clutch or spring that no figure takes into account: only the alternator's type is varied."""
    crank, *others = layout.pulleys
    ours = next((one for one in others if one.part == "alternator"), None)
    ours = ours or next((one for one in others if one.pulley is not None), None)
    for pulley in (crank, *others):
        if pulley is not ours and pulley.pulley not in (None, "solid"):
            kind = str(pulley.pulley).replace("-", " ")
            yield f"{pulley.part}: its {kind} pulley is counted as a solid one; only that of one part is worked out."
