"""What somebody found before this session: which check, what it came to, and who found it."""

from triage.knowledge.models import Knowledge
from triage.present.typing.correcting import Stamp, answers_of, in_words
from triage.present.typing.reading import outcomes_or_reading
from triage.present.typing.results import Ask, Result
from triage.present.typing.rounds import searched
from triage.session import commands as c
from triage.session.rules.telling import expect_open, may_be_told
from triage.session.state import State


def finding_told(knowledge: Knowledge, state: State, stamp: Stamp, lines: tuple[str, ...]) -> Result:
    """Which check by number or words, its answer, and by whose word."""
    expect_open(state)
    found = searched(knowledge, may_be_told(knowledge, state), lines, "What was found before? Its number, or a word.")
    if isinstance(found, Ask):
        return found
    check, given = knowledge.checks[found[0]], found[1]
    if not given:
        return Ask("Who found it? A name, or the shop.")
    by, told = in_words(given[0]), given[1:]
    if not told:
        return Ask(answers_of(check))
    answer = outcomes_or_reading(knowledge, state, check, told)
    if isinstance(answer, Ask):
        return answer
    outcomes, parts = answer
    return c.TellFinding(at_ms=stamp[0], who=stamp[1], check=check.id, outcomes=outcomes, parts=parts, by=by)
