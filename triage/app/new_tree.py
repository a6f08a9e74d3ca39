"""A start for a tree of a shop's own: a symptom with its sign, a tree that is sound, and one recorded case.

It looks at the standing drive as every shipped tree does and spins the idlers; the author goes on from there.
"""

from collections.abc import Mapping
from typing import Final

CAUSES: Final = (
    "belt-damaged",
    "belt-wrong",
    "bracket-loose",
    "crank-damper-failing",
    "pulley-loose",
    "debris-in-drive",
    "fan-drive-failing",
    "idler-bearing-worn",
)
"""What the start concludes, so what the sign of the symptom has to be produced by."""

_SIGN: Final = """\
  - id: {symptom}
    name: {name}
    # How often the symptom shows where none of these causes is there.
    leak: {{present: hardly-ever}}
    # From memory until you know better: seldom, sometimes, often, usually, nearly-always.
    produced_by:
{produced}
"""
_TREE: Final = """\
# {name}. Begun with `triage trees new`: put your own checks and ends in the place of the idlers.
symptom: {symptom}
name: {name}
# How customers say it. `triage symptom "..."` says what a sentence finds.
phrases: [{phrase}]
# The check that is made again to prove a repair.
repeat: spin-idler
complaint: {{met: complaint-heard, under: met-under, now: complaint-now}}
start: heard
# What is asked before the bonnet is opened, and the look that lets an engine run; they lead to the nodes below.
uses: [asked-first, look-at-belt]
nodes:
  looked:
    check: spin-idler
    next: {{smooth: e-undecided, rough: c-idler, will-not-turn: c-idler}}
    cannot: e-undecided
    because: An idler's bearing is quickly felt.
  looked-keep-stopped:
    check: spin-idler
    next: {{smooth: e-keep-stopped, rough: c-idler, will-not-turn: c-idler}}
    cannot: e-keep-stopped
    because: The engine stays off; what can be felt is felt.
  fan-loose: {{conclude: [fan-drive-failing], because: A fan that is loose or cracked comes before everything.}}
  c-idler: {{conclude: [idler-bearing-worn], because: Its bearing is rough.}}
  e-undecided: {{end: undecided, because: This tree knows no further check yet.}}
  e-keep-stopped: {{end: undecided, because: The engine stays off until what was seen is put right.}}
"""
_CASE: Final = """\
# about: invented. A check that is not listed gave its normal outcome.
- id: {symptom}-idler
  symptom: {symptom}
  vehicle: {{cylinders: 4, specified_pulley: solid, odometer: "120000 km"}}
  findings: {{spin-idler: rough}}
  cause: [idler-bearing-worn]
"""
SIGNS: Final = "signs.yaml"


def start_of(symptom: str, name: str, phrase: str) -> Mapping[str, str]:
    """Return the files of a start by their place in the shop's folder; that of the signs is one item, without its head.

    Args:
        symptom: the id of the symptom.
        name: what it is called on screens.
        phrase: how a customer says it.
    """
    produced = "\n".join(f"      {cause}: {{present: sometimes}}" for cause in CAUSES)
    said = {"symptom": symptom, "name": quoted(name), "phrase": quoted(phrase), "produced": produced}
    return {
        f"symptoms/{symptom}.yaml": _TREE.format(**said),
        SIGNS: _SIGN.format(**said),
        f"cases/{symptom}.yaml": _CASE.format(**said),
    }


def quoted(text: str) -> str:
    """A text as a scalar of YAML that no sign in it can end."""
    return "'" + " ".join(text.split()).replace("'", "''") + "'"
