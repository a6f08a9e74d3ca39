"""More mutants of mutants_of_rules.py: what is taken back, and what proves a cure, each weakened by one small step."""

from tests.bench.mutants import EVOLVING, FINDING, INTERLOCKS, KEEPING, STEPPING, Mutant

ACTS = "triage/session/acts.py"
UNDOING = "triage/session/rules/undoing.py"
PROVING = "triage/session/proving.py"
REPAIRING = "triage/session/rules/repairing.py"
TELLING = "triage/session/rules/telling.py"
TOLD = ("tests/session/rules/test_telling.py",)
BY_PROOF = ("tests/session/test_proving.py", "tests/session/test_ends.py")
MUTANTS_OF_ENDS = (
    Mutant(10, ACTS, '    "gate",\n', '    "gate",\n    "standing",\n', "an undo brings confirmations back to life"),
    Mutant(10, ACTS, '    "gate",\n', '    "gate",\n    "condition",\n', "an undo puts the vehicle together on paper"),
    Mutant(
        10,
        ACTS,
        "dict.fromkeys((*state.look_again, *last.before.look_again))",
        "dict.fromkeys(last.before.look_again)",
        "an undo lets a look that has to come again go",
    ),
    Mutant(10, UNDOING, "    if last.kind in LASTING:", "    if False:", "what has happened can be taken back"),
    Mutant(
        10,
        UNDOING,
        "set(last.about) & last.before.recap",
        "False",
        "that all is as before can be taken back, and an hour begins anew",
    ),
    Mutant(
        10,
        UNDOING,
        "    standing = tuple(line for line in lines if line in state.standing)",
        "    standing = tuple(line for line in lines if not lines)",
        "a line that is taken back stays pressed",
    ),
    Mutant(
        10,
        UNDOING,
        "    looks = last.about if last.kind in _FOUND else ()",
        "    looks = () if last.kind in _FOUND else ()",
        "the engine may run on a look that was taken back",
    ),
    Mutant(
        11,
        PROVING,
        "    if disproving(knowledge, state):\n",
        "    if not knowledge:\n",
        "what speaks against a cure is not heard",
        BY_PROOF,
    ),
    Mutant(
        11,
        PROVING,
        "(gone_now(knowledge, state) and met_under(knowledge, state))",
        "gone_now(knowledge, state)",
        "what was never met is proved gone",
        BY_PROOF,
    ),
    Mutant(
        11,
        PROVING,
        "    if any(one.waits for one in _named(knowledge, state)):",
        "    if any(not one for one in _named(knowledge, state)):",
        "what was met on a cold morning is proved gone on a warm engine",
        BY_PROOF,
    ),
    Mutant(
        11,
        PROVING,
        "return runs and says(knowledge, state, before)",
        "return says(knowledge, state, before)",
        "a complaint is proved gone beside an engine that stands",
        BY_PROOF,
    ),
    Mutant(
        11,
        PROVING,
        'says(knowledge, state, before) == "disproves" and ',
        "",
        "a check that was normal before proves a cure",
        BY_PROOF,
    ),
    Mutant(
        11,
        KEEPING,
        '    if proof_of(knowledge, state) != "proved-gone":',
        '    if proof_of(knowledge, state) == "not-cured":',
        "a job is signed off with nothing proved",
        BY_PROOF,
    ),
    Mutant(
        11,
        EVOLVING,
        "in_run = frozenset[str]() if started else state.in_run",
        "in_run = state.in_run",
        "the complaint of the run before is there in this one",
        BY_PROOF,
    ),
    Mutant(
        11,
        REPAIRING,
        "if not found.outcomes or needs_running(knowledge, check)",
        "if not found.outcomes",
        "what was heard days ago proves what waits for a cold morning",
        BY_PROOF,
    ),
    Mutant(
        12,
        INTERLOCKS,
        "apart = not state.opened.isdisjoint(thing.after)",
        "apart = False",
        "what was taken apart is put together without a word",
    ),
    Mutant(
        12,
        STEPPING,
        'if proof == "not-cured" and not interlocks',
        'if proof == "gone" and not interlocks',
        "a bad proof goes on with starts",
        BY_PROOF,
    ),
    Mutant(
        13,
        STEPPING,
        "if found.told_by and is_look(",
        "if not found and is_look(",
        "an engine starts on a look that was only told of",
        TOLD,
    ),
    Mutant(
        13,
        TELLING,
        "{*state.known, *state.put_right, *state.look_again,",
        "{*state.known, *state.put_right,",
        "what is to be looked at again is told instead",
        TOLD,
    ),
    Mutant(
        13,
        TELLING,
        'or state.condition.engine == "running":',
        'or state.condition.engine == "gone":',
        "somebody tells beside a running engine",
        TOLD,
    ),
    Mutant(
        13,
        UNDOING,
        "e.FindingTold.kind, ",
        "",
        "the engine may run on a look that was told of and taken back",
        TOLD,
    ),
    Mutant(13, PROVING, "if before and before.told_by:", "if not repeat:", "what others heard is proved gone", TOLD),
    Mutant(13, FINDING, "    if by:\n", "    if not check:\n", "what was told is seen once it is corrected", TOLD),
)
