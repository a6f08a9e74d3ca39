"""Whatever is named by its id exists.

**Why.** A mistyped id is silent: a confirmation would never be asked, a figure would lose its source, a path would
end nowhere.

**Passes.** `sources: [trade-practice]` where sources.yaml has an item with that id. A check, but no remedy, may
have the state `anywhere`: it is asked and needs no vehicle state.

**Fails.** `sources: [trade-practise]`. The nearest known id is proposed.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from triage.errors import Fault
from triage.knowledge.models import Knowledge
from triage.knowledge.nearest import nearest
from triage.knowledge.origins import Origins, Path
from triage.units import KINDS

_REFERENCES: Final = (
    ("source", "sources", "confirmations.*.sources.*"),
    ("source", "sources", "tools.*.relative.source"),
    ("source", "sources", "tools.*.absolute.source"),
    ("source", "sources", "states.*.lives.source"),
    ("source", "sources", "states.*.longest.source"),
    ("source", "sources", "states.*.run_limit.source"),
    ("source", "sources", "states.*.cold_after.source"),
    ("source", "sources", "circumstances.*.life.source"),
    ("source", "sources", "circumstances.*.source"),
    ("source", "sources", "checks.*.sources.*"),
    ("source", "sources", "checks.*.reading.zones.*.below.source"),
    ("source", "sources", "checks.*.reading.below_zero.allowed.source"),
    ("source", "sources", "remedies.*.sources.*"),
    ("source", "sources", "remedies.*.torques.*.typical.source"),
    ("source", "sources", "remedies.*.hours.source"),
    ("source", "sources", "accesses.*.hours.source"),
    ("source", "sources", "rounds.*.minutes.source"),
    ("tool", "tools", "checks.*.tools.*"),
    ("tool", "tools", "checks.*.reading.instrument"),
    ("tool", "tools", "checks.*.reading.parts.*.instrument"),
    ("tool", "tools", "checks.*.reading.other_ways.*.instrument"),
    ("tool", "tools", "checks.*.reading.other_ways.*.parts.*.instrument"),
    ("tool", "tools", "remedies.*.torques.*.tool"),
    ("hazard", "hazards", "confirmations.*.hazard"),
    ("hazard", "hazards", "confirmations.*.things.*"),
    ("hazard", "hazards", "states.*.shown.@"),
    ("confirmation", "confirmations", "states.*.confirmations.*"),
    ("confirmation", "confirmations", "confirmations.*.instead_of.*"),
    ("vehicle state", "states", "checks.*.state"),
    ("vehicle state", "states", "checks.*.set_up.state"),
    ("vehicle state", "states", "rounds.*.state"),
    ("vehicle state", "states", "remedies.*.state"),
    ("engine state", "engine", "confirmations.*.after.engine"),
    ("belt state", "belt", "confirmations.*.after.belt"),
    ("battery state", "battery", "confirmations.*.after.battery"),
    ("cause", "causes", "circumstances.*.odds.@"),
    ("cause", "causes", "circumstances.*.wears.*"),
    ("cause", "causes", "signs.*.produced_by.@"),
    ("cause", "causes", "signs.*.only_for.@"),
    ("cause", "causes", "trees.*.nodes.*.conclude.*"),
    ("cause", "causes", "remedies.*.also_cures.*"),
    ("sign", "signs", "checks.*.sign"),
    ("sign", "signs", "checks.*.outcomes.*.sign"),
    ("check", "checks", "circumstances.*.answered.@"),
    ("check", "checks", "checks.*.outcomes.*.first.*"),
    ("check", "checks", "remedies.*.repeat.*"),
    ("check", "checks", "remedies.*.look.check"),
    ("check", "checks", "trees.*.repeat"),
    ("check", "checks", "rounds.*.checks.*"),
    ("check", "checks", "trees.*.complaint.*"),
    ("check", "checks", "trees.*.nodes.*.check"),
    ("round", "rounds", "trees.*.nodes.*.round"),
    ("remedy", "remedies", "causes.*.remedy"),
    ("access", "accesses", "remedies.*.access.*"),
    ("access", "accesses", "remedies.*.look.access.*"),
    ("part of a remedy", "parts", "circumstances.*.part"),
    ("part of a remedy", "parts", "remedies.*.brings.*"),
    ("kind of quantity", "kinds", "tools.*.measures"),
    ("kind of quantity", "kinds", "checks.*.reading.kind"),
    ("kind of quantity", "kinds", "checks.*.reading.parts.*.kind"),
    ("kind of quantity", "kinds", "checks.*.reading.other_ways.*.parts.*.kind"),
    ("level", "signs.*.levels", "signs.*.leak.@"),
    ("level", "signs.*.levels", "signs.*.produced_by.*.@"),
    ("outcome", "checks.*.outcomes", "checks.*.normal_for.*"),
    ("outcome", "checks.*.outcomes", "checks.*.reading.zones.*.outcome"),
    ("outcome", "checks.*.outcomes", "checks.*.reading.words.*"),
    ("node", "trees.*.nodes", "trees.*.start"),
    ("node", "trees.*.nodes", "trees.*.nodes.*.next.*"),
    ("node", "trees.*.nodes", "trees.*.nodes.*.by_pulley.*"),
    ("node", "trees.*.nodes", "trees.*.nodes.*.cannot"),
    ("node", "trees.*.nodes", "trees.*.nodes.*.skip"),
)
"""What is named, among what it must be, and where it is named; `*` is any item, `@` the keys instead of the values."""

_WORDS: Final = {
    "kinds": tuple(KINDS),
    "engine": ("stopped", "running"),
    "belt": ("fitted", "removed"),
    "battery": ("connected", "isolated"),
}


def find(knowledge: Knowledge, origins: Origins) -> Iterator[Fault]:
    """Name every id that is named but does not exist."""
    data = knowledge.model_dump(mode="json", warnings=False)
    for what, among, pattern in _REFERENCES:
        if among in origins.unread:
            continue
        for path, name in _follow(data, pattern.split("."), ()):
            known = _known(data, among, path, origins)
            if name in known or (pattern == "checks.*.state" and name == "anywhere"):
                continue
            place = origins.place_of_key(*path) if pattern.endswith("@") else origins.place(*path)
            yield Fault(place, f"There is no {what} '{name}'.", nearest(name, known))


def _follow(data: object, steps: list[str], path: Path) -> Iterator[tuple[Path, str]]:
    """Yield path and id of everything in the data that a pattern leads to; what is not given leads nowhere."""
    if not steps:
        if isinstance(data, str):
            yield path, data
        return
    if steps[0] == "@" and isinstance(data, dict):
        yield from (((*path, key), key) for key in data)
        return
    for step, below in _children(data):
        if steps[0] in ("*", step):
            yield from _follow(below, steps[1:], (*path, step))


def _children(data: object) -> Iterable[tuple[str | int, object]]:
    if isinstance(data, dict):
        return data.items()
    return enumerate(data) if isinstance(data, list) else ()


def _known(data: object, among: str, path: Path, origins: Origins) -> list[str]:
    if among in _WORDS:
        return list(_WORDS[among])
    if among == "parts":
        parts = (part["id"] for remedy in data["remedies"].values() for part in remedy["parts"])  # type: ignore[index]
        return list(dict.fromkeys(parts))
    if "." not in among:
        return origins.named(among)
    section, _, field = among.split(".")
    there = data[section][path[1]][field]  # type: ignore[index]  # a dump has the shape of its models
    return [entry["id"] if isinstance(entry, dict) else entry for entry in there]
