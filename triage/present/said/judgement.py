"""How a reading was judged, in words."""

from triage.knowledge.models import Knowledge
from triage.record.events import ReadingTaken
from triage.record.readings import Verdict
from triage.units import say_quantity


def parts_words(event: ReadingTaken) -> str:
    """What was typed for a reading."""
    return "; ".join(part.text for part in event.parts)


def judged_words(knowledge: Knowledge, event: ReadingTaken) -> str:
    """What a reading came to, with its margin."""
    outcome = knowledge.checks[event.check].outcome(event.outcome)
    worked_out = f"From {parts_words(event)}. " if len(event.parts) > 1 else ""
    verdict = verdict_words(knowledge, event.check, event.verdict)
    return f"{worked_out}{outcome.words if outcome else 'Too close to call'}: {verdict}"


def verdict_words(knowledge: Knowledge, check_id: str, verdict: Verdict) -> str:
    """Value, uncertainty, the nearest limit with its source, and whether it is settled."""
    reading = knowledge.checks[check_id].reading
    kind = reading.kind if reading else "number"
    source = knowledge.sources.get(verdict.limit_source)
    settled = "settled at 95 %" if verdict.settled else "TOO CLOSE TO CALL"
    return (
        f"{say_quantity(verdict.value, kind)}, u = {say_quantity(verdict.uncertainty, kind)}; "
        f"nearest limit {say_quantity(verdict.limit, kind)} ({source.title if source else verdict.limit_source}), "
        f"margin {_signed(verdict.margin, kind)}; {settled}"
    )


def _signed(value: float, kind: str) -> str:
    return f"{'−' if value < 0 else '+'}{say_quantity(abs(value), kind)}"
