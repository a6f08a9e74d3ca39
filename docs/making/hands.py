"""What hands type for the command that answers a step: for demos, the tour, and tests of both faces."""

from triage.knowledge.models import Knowledge
from triage.record.steps import Step
from triage.session import commands as c

Lines = tuple[str, ...]


def lines_for(knowledge: Knowledge, command: c.Command | None, step: Step | None = None) -> Lines:
    """The lines that come to a command at a step, in either face; none where nobody types it."""
    if step and step.kind == "round" and isinstance(command, c.Answer | c.Read | c.CannotDo):
        return (command.check, *lines_for(knowledge, command))
    match command:
        case c.TellFact():
            return (_fact(command),)
        case c.Confirm():
            return (command.confirmation, *_proved(knowledge, command))
        case c.SayWhy():
            return (command.reason,)
        case c.CannotDo():
            return ("cannot", command.reason)
        case c.Answer():
            return (_numbered(knowledge, command),)
        case c.Read():
            # In brackets stands where a part was taken from.
            return tuple(part.text.partition(" (")[0] for part in command.parts)
        case c.RecordTorque():
            return (command.reference, command.figure, command.text, command.wrench)
    return _plain(command)


def _proved(knowledge: Knowledge, command: c.Confirm) -> Lines:
    """What a line asks to be typed with it."""
    thing = knowledge.confirmations.get(command.confirmation)
    if thing and thing.proof == "dead":
        return tuple(f"{volts} V" for volts in command.volts)
    return (command.name,) if thing and thing.proof else ()


def _plain(command: c.Command | None) -> Lines:
    match command:
        case c.AnswerGate():
            return (command.answer,)
        case c.FinishSetUp():
            return ("done",)
        case c.StartRun():
            return ("start",)
        case c.EndRun():
            return ("still",)
        case c.TryAgain():
            return ("again",)
        case c.BeginRemedy():
            return ("repair",)
        case c.NamePlace():
            return (command.place,)
        case c.RecordPart():
            return (command.done,)
        case c.Close():
            return (
                ("sign-off",) if command.how == "signed-off" else ("close", command.reason, *("y" for _ in command.off))
            )
    return ()


def _fact(command: c.TellFact) -> str:
    if command.value is None:
        return "unknown"
    if command.fact == "odometer":
        return f"{command.value} m"
    return str(command.value)


def _numbered(knowledge: Knowledge, command: c.Answer) -> str:
    order = [outcome.id for outcome in knowledge.checks[command.check].outcomes]
    # A bare number beside a reading would be the reading.
    mark = "#" if knowledge.checks[command.check].reading else ""
    return mark + " ".join(str(order.index(outcome) + 1) for outcome in command.outcomes)
