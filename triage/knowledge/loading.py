"""From a folder of YAML files to knowledge: everything is read, everything wrong is named at once.

A folder holds `sources.yaml`, `tools.yaml`, `interlocks.yaml`, `causes.yaml`, `signs.yaml`, `remedies.yaml`, any
number of files in `checks/`, one tree a file in `symptoms/`, and the branches that trees share in `branches/`; rounds,
where it has any, in `rounds.yaml`. Under each section stands a list of items that begin with their id.

Another folder may be laid over it: what has an id of the first stands in its place, everything else comes to it. It
holds what it changes and nothing else, and may not take protection away (`triage.knowledge.tightening`).
"""

from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Final

from triage.documents import Document, Model, build
from triage.documents.naming import word
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty, Fault, Place
from triage.knowledge import models
from triage.knowledge.files import BRANCHES, CHECKS, INTERLOCKS, ROUNDS, SECTIONS_IN, TREES, listed
from triage.knowledge.lint import lint
from triage.knowledge.nearest import nearest
from triage.knowledge.origins import Origins
from triage.knowledge.origins import Path as Steps
from triage.knowledge.tightening import loosened

_SECTIONS: Final[dict[str, type[Model]]] = {
    "sources": models.Source,
    "tools": models.Tool,
    "hazards": models.Hazard,
    "confirmations": models.Confirmation,
    "states": models.VehicleState,
    "causes": models.Cause,
    "circumstances": models.Circumstance,
    "signs": models.Sign,
    "checks": models.Check,
    "remedies": models.Remedy,
    "accesses": models.Access,
    "rounds": models.Round,
}
_MAY_LACK: Final = ("accesses", "circumstances")


def load_knowledge(folder: Path, instead: Path | None = None, over: Path | None = None) -> models.Knowledge:
    """Read a folder of knowledge and check it as a whole.

    Args:
        folder: what holds sources.yaml and the other files.
        instead: a file with a tree that stands in place of the folder's own tree of that symptom.
        over: a folder that is laid over it, by id.

    Raises:
        DocumentFaulty: a file cannot be read, something has not the right shape, an id stands twice, a rule of
            `triage.knowledge.lint` is broken, or what is laid over takes protection away; every fault of every file
            is named.
    """
    reader = _Reader()
    if instead is not None:
        reader.read_tree(instead)
    reader.read_folder(folder)
    under = models.Knowledge.model_validate({**reader.built, "trees": {}})
    if over is not None:
        laid = _Reader(may_lack=tuple(_SECTIONS))
        laid.read_folder(over)
        reader.lay(laid)
    reader.merge_branches(all_used=instead is None and over is None)
    if not reader.built["trees"] and not reader.faults:
        place = Place(str(folder / TREES), 1, 1)
        reader.faults.append(Fault(place, "There is no tree.", "Put one file for each symptom into this folder."))
    knowledge = models.Knowledge.model_validate(reader.built)
    origins = Origins(reader.items, reader.unread, reader.shared)
    found = [*reader.faults, *lint(knowledge, origins), *loosened(under, knowledge, origins)]
    if found:
        raise DocumentFaulty(tuple(sorted(dict.fromkeys(found), key=_reading_order)))
    return knowledge


def load_interlocks(folder: Path, over: Path | None = None) -> models.Interlocks:
    """Read the interlocks of a folder of knowledge and of one laid over it, and nothing else of them.

    Raises:
        DocumentFaulty: the file cannot be read, or something in it has not the right shape.
    """
    reader = _Reader()
    sections = SECTIONS_IN[INTERLOCKS]
    reader.read_sections(folder / INTERLOCKS, sections)
    if over is not None and (over / INTERLOCKS).exists():
        laid = _Reader(may_lack=sections)
        laid.read_sections(over / INTERLOCKS, sections)
        reader.lay(laid)
    if reader.faults:
        raise DocumentFaulty(tuple(reader.faults))
    return models.Interlocks.model_validate({section: reader.built[section] for section in sections})


def symptom_of(path: Path) -> str:
    """The symptom that a tree file is for, "" where it names none.

    Raises:
        DocumentFaulty: the file cannot be read.
    """
    return _id_at(read_document(path), (), "symptom")


def _reading_order(fault: Fault) -> tuple[str, int, int]:
    return fault.place.file, fault.place.line, fault.place.column


class _Reader:
    """Gathers items and faults over all files of a folder."""

    def __init__(self, may_lack: Collection[str] = _MAY_LACK) -> None:
        self._may_lack = may_lack
        self.faults: list[Fault] = []
        self.built: dict[str, dict[str, Model]] = {section: {} for section in (*_SECTIONS, "trees")}
        self.items: dict[tuple[str, str], tuple[Document, Steps]] = {}
        self.unread: set[str] = set()
        self.branches: dict[str, tuple[Document, models.Branch]] = {}
        self.shared: dict[tuple[str, str], Document] = {}

    def read_folder(self, folder: Path) -> None:
        """Read every file of a folder, but a tree of a symptom that is taken already."""
        for name, sections in SECTIONS_IN.items():
            if set(sections) - set(self._may_lack) or (folder / name).exists():
                self.read_sections(folder / name, sections)
        for path in listed(folder / CHECKS):
            self.read_sections(path, ("checks",))
        if (folder / ROUNDS).exists():
            self.read_sections(folder / ROUNDS, ("rounds",))
        taken = frozenset(self.built["trees"])
        for path in listed(folder / TREES):
            self.read_tree(path, taken)
        for path in listed(folder / BRANCHES):
            self.read_branch(path)

    def lay(self, over: "_Reader") -> None:
        """Let what another folder holds stand in place of what has the same id, and beside the rest."""
        self.faults += over.faults
        self.items |= over.items
        self.unread |= over.unread
        self.branches |= over.branches
        for section, items in over.built.items():
            self.built[section] |= items

    def read_sections(self, path: Path, sections: tuple[str, ...]) -> None:
        """Read a file that holds these sections, each a list of items."""
        document = self._read(path, sections)
        if document is None:
            return
        data = document.data if isinstance(document.data, dict) else {}
        self.faults += _strange_keys(document, data, sections)
        for section in sections:
            if section in self._may_lack and section not in data:
                continue
            if not isinstance(data.get(section), list):
                self.unread.add(section)
                message = f"The file lacks a list of {section}."
                self.faults.append(Fault(document.place((section,)), message, f"Begin it with '{section}:'."))
                continue
            for position in range(len(data[section])):
                self._take(document, section, "id", (section, position))

    def read_tree(self, path: Path, taken: Collection[str] = ()) -> None:
        """Read a file that is one tree, unless it is of a symptom that is taken."""
        document = self._read(path, ("trees",))
        if document is not None and _id_at(document, (), "symptom") not in taken:
            self._take(document, "trees", "symptom", ())

    def read_branch(self, path: Path) -> None:
        """Read a file of nodes that trees share."""
        document = self._read(path, ("trees",))
        if document is None:
            return
        try:
            branch = build(document, models.Branch)
        except DocumentFaulty as error:
            self.faults += error.faults
            self.unread.add("trees")
            return
        self.branches[branch.branch] = document, branch

    def merge_branches(self, *, all_used: bool) -> None:
        """Take the nodes of its branches into each tree; all of them are to be used where `all_used`."""
        used: set[str] = set()
        for symptom, tree in self.built["trees"].items():
            if not isinstance(tree, models.Tree):
                continue
            used.update(tree.uses)
            nodes = dict(tree.nodes)
            for position, branch_id in enumerate(tree.uses):
                self._merge_one(symptom, position, branch_id, nodes)
            self.built["trees"][symptom] = tree.model_copy(update={"nodes": nodes})
        for branch_id, (document, _) in self.branches.items():
            if all_used and branch_id not in used and "trees" not in self.unread:
                fault = Fault(document.place(("branch",)), f"No tree uses the branch '{branch_id}'.", "Remove it.")
                self.faults.append(fault)

    def _merge_one(self, symptom: str, position: int, branch_id: str, nodes: dict[str, models.Node]) -> None:
        document, steps = self.items["trees", symptom]
        if branch_id not in self.branches:
            if "trees" not in self.unread:
                message = f"There is no branch '{branch_id}'."
                place = document.place((*steps, "uses", position))
                self.faults.append(Fault(place, message, nearest(branch_id, list(self.branches))))
            return
        origin, branch = self.branches[branch_id]
        for node_id, node in branch.nodes.items():
            if node_id in nodes:
                place = origin.place_of_key(("nodes", node_id))
                message = f"The node '{node_id}' stands in the tree of {symptom} already."
                self.faults.append(Fault(place, message, "Give one of them another name."))
                continue
            nodes[node_id] = node
            self.shared[symptom, node_id] = origin

    def _read(self, path: Path, sections: tuple[str, ...]) -> Document | None:
        try:
            return read_document(path)
        except DocumentFaulty as error:
            self.faults += error.faults
            self.unread.update(sections)
            return None

    def _take(self, document: Document, section: str, key: str, steps: Steps) -> None:
        item_id = _id_at(document, steps, key)
        first = self.items.get((section, item_id))
        if first is not None:
            message = f"'{word(item_id)}' stands twice under {section}; it is already at {first[0].place(first[1])}."
            self.faults.append(Fault(document.place((*steps, key)), message, "Give one of them another id."))
            return
        if item_id:
            self.items[section, item_id] = document, steps
        try:
            model = models.Tree if section == "trees" else _SECTIONS[section]
            self.built[section][item_id] = build(document, model, steps)
        except DocumentFaulty as error:
            self.faults += error.faults


def _id_at(document: Document, steps: Steps, key: str) -> str:
    item = document.data
    for step in steps:
        item = item[step]  # type: ignore[index]  # the steps were made from the data
    value = item.get(key) if isinstance(item, dict) else None
    return value if isinstance(value, str) else ""


def _strange_keys(document: Document, data: dict[str, object], sections: tuple[str, ...]) -> Iterator[Fault]:
    if not isinstance(document.data, dict):
        return
    for key in data:
        if key not in sections:
            message = f"The file has no section '{word(key)}'."
            yield Fault(document.place_of_key((key,)), message, nearest(key, sections))
