"""Make a page for each symptom, with the tree as a picture, its checks, limits and causes; takes a second.

    python docs/making/make_symptoms.py FOLDER

Nothing of it is kept: the pages say what trees/ says.
"""

import sys
from pathlib import Path

from triage.knowledge.drawn.picture import picture
from triage.knowledge.loading import load_knowledge
from triage.knowledge.models import Check, Knowledge, Tree
from triage.knowledge.shipped import trees_folder


def symptom_page(knowledge: Knowledge, symptom: str) -> str:
    """Make the guide to one symptom: its picture, its checks in the order of the tree, what it can come to."""
    tree = knowledge.trees[symptom]
    checks = dict.fromkeys(node.check for node in tree.nodes.values() if node.check)
    causes = dict.fromkeys(cause for node in tree.nodes.values() for cause in node.conclude)
    parts = [
        f"# {tree.name}",
        "It sounds like this: " + "; ".join(f"\u201c{phrase}\u201d" for phrase in tree.phrases) + ".",
        f"![The tree as a picture]({symptom}.svg)",
        f"On the screen: `triage trees draw {symptom}`. The vehicle maker's procedure comes first.",
        "## Checks",
        *[_check(knowledge, knowledge.checks[check]) for check in checks],
        "## What it can come to",
        "\n".join(
            ["| cause | what it is | remedy |", "|---|---|---|", *[_cause(knowledge, cause) for cause in causes]]
        ),
        *_ends(tree),
    ]
    return "\n\n".join(parts) + "\n"


def _check(knowledge: Knowledge, check: Check) -> str:
    state = knowledge.states[check.state].words if check.state in knowledge.states else "talk only"
    lines = [f"### {check.name}", f"{check.question} ({state}; {check.minutes:g} min)", check.why]
    if check.set_up:
        lines.append(f"Set up first, {knowledge.states[check.set_up.state].words}: " + " ".join(check.set_up.steps))
    lines += ["\n".join(f"- {outcome.words}" for outcome in check.outcomes)]
    if check.reading:
        ways = [" + ".join(part.ask for part in way.parts) for way in check.reading.ways]
        lines += [f"Measured as: {'; or as: '.join(ways)}."] if len(ways) > 1 else []
        figures = [zone.below for zone in check.reading.zones if zone.below]
        limits = [f"{figure.text} ({knowledge.sources[figure.source].title})" for figure in figures]
        lines.append("Limits unless the maker gives others: " + "; ".join(limits) + ".")
    return "\n\n".join(lines)


def _cause(knowledge: Knowledge, cause_id: str) -> str:
    cause = knowledge.causes[cause_id]
    return f"| {cause.name} | {cause.meaning} | {knowledge.remedies[cause.remedy].name} |"


def _ends(tree: Tree) -> list[str]:
    ends = dict.fromkeys(f"- {node.end}: {node.because}" for node in tree.nodes.values() if node.end)
    return ["Without a cause it ends with:", "\n".join(ends)] if ends else []


def main() -> None:
    """Write every page and picture."""
    if len(sys.argv) != 2:
        raise SystemExit(__doc__)
    folder, knowledge = Path(sys.argv[1]), load_knowledge(trees_folder())
    folder.mkdir(parents=True, exist_ok=True)
    for symptom, tree in knowledge.trees.items():
        (folder / f"{symptom}.md").write_text(symptom_page(knowledge, symptom), encoding="utf-8", newline="\n")
        (folder / f"{symptom}.svg").write_text(picture(knowledge, tree), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
