"""Taking back exactly what was done last."""

from triage.errors import CommandRefused
from triage.knowledge.models import Knowledge
from triage.record import events as e
from triage.session import commands as c
from triage.session.acts import LASTING
from triage.session.state import Act, State
from triage.session.stepping import is_look

_FOUND = (e.CheckAnswered.kind, e.FindingTold.kind, e.ReadingTaken.kind, e.CheckNotDone.kind, e.FindingTakenBack.kind)


def undo(knowledge: Knowledge, state: State, command: c.Undo) -> tuple[e.Event, ...]:
    """Take back the last act; a line that was pressed is open again, a look that was made is made again."""
    last = state.acts[-1] if state.acts else None
    if last is None:
        raise CommandRefused("There is nothing to take back.", "Go on with the step on screen.")
    if last.kind in LASTING:
        raise CommandRefused(*LASTING[last.kind])
    if last.kind == e.ThingConfirmed.kind and set(last.about) & last.before.recap:
        raise CommandRefused("That all is as before cannot be taken back.", 'Where it is not, say "changed".')
    taken_back = e.ActUndone(**command.stamp, act=last.kind, about=last.about)
    return (taken_back, *_opened(state, last, command), *_to_look_again(knowledge, state, last, command))


def _opened(state: State, last: Act, command: c.Undo) -> tuple[e.Event, ...]:
    lines = last.about if last.kind == e.ThingConfirmed.kind else ()
    standing = tuple(line for line in lines if line in state.standing)
    return (e.ThingsEnded(**command.stamp, things=standing, because="taken-back"),) if standing else ()


def _to_look_again(knowledge: Knowledge, state: State, last: Act, command: c.Undo) -> tuple[e.Event, ...]:
    """Whatever it had said: nobody knows any more that the engine may run."""
    looks = last.about if last.kind in _FOUND else ()
    again = tuple(one for one in looks if is_look(knowledge, state, one) and one not in state.look_again)
    return (e.LooksEnded(**command.stamp, checks=again),) if again else ()
