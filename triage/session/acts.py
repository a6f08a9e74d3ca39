"""What somebody did last, so that exactly that can be taken back, and nothing else.

A state keeps what stood before each act. What happened to the vehicle and to people is no part of it: no yes comes back
to life, no engine has not run, and what was said of a look that may forbid running stays said.
"""

from dataclasses import replace

from triage.record import events as e
from triage.record.counsel import REASONING
from triage.session.state import Act, State

MOST_ACTS = 50
"""How many acts can be taken back, one after the other; no one remembers more."""
RESTORED = (
    "gate",
    "facts",
    "looked_up",
    "stage",
    "maker",
    "layout",
    "match",
    "findings",
    "after",
    "first_readings",
    "concluded",
    "own",
    "counsel",
    "fresh",
    "costs",
    "renewed_at_m",
    "remedies",
    "places",
    "parts_done",
    "torques_done",
    "put_right",
    "rounds",
    "in_run",
    "round",
    "left",
    "asked",
)
"""What an act may have changed of the search and the repair."""
_ABOUT: dict[type[e.Event], str] = {
    e.GateAnswered: "",
    e.FactTold: "fact",
    e.FactCorrected: "fact",
    e.RenewalTold: "part",
    e.LayoutUsed: "",
    e.RateMatched: "",
    e.ThingConfirmed: "lines",
    e.ThingRefused: "lines",
    e.RefusalExplained: "confirmation",
    e.HeldTriedAgain: "",
    e.SomethingChanged: "",
    e.AloneSaid: "",
    e.SetUpFinished: "check",
    e.RunStarted: "",
    e.RunEnded: "",
    e.AlarmRaised: "",
    e.EngineOff: "",
    e.CheckAnswered: "check",
    e.FindingTold: "check",
    e.ReadingTaken: "check",
    e.ReadingThrownAway: "check",
    e.CheckNotDone: "check",
    e.RoundLeft: "",
    e.CheckAskedFor: "check",
    e.FindingTakenBack: "check",
    e.FaultPutRight: "check",
    e.MakerFigureEntered: "figure",
    e.NoteAdded: "",
    e.OwnRouteTaken: "check",
    e.RemedyBegun: "",
    e.PlaceNamed: "remedy",
    e.PartRecorded: "part",
    e.TorqueRecorded: "torque",
    e.NotCured: "",
    e.SessionResumed: "",
}
"""What somebody does, and the field that says what it was about."""
ACTS = frozenset(event.kind for event in _ABOUT)
"""Kinds of event that are acts."""
WITH_IT = (e.FactCorrected.kind, e.MakerFigureEntered.kind, e.FindingTakenBack.kind)
"""A finding that is taken back at the same moment goes with these."""
ANEW = (e.FindingTakenBack.kind, e.ReadingThrownAway.kind)
"""What a finding that comes of it at the same moment goes with."""

LASTING: dict[str, tuple[str, str]] = {
    e.ThingRefused.kind: ('A "no" cannot be taken back.', "Say that it is so now, where the step offers it."),
    e.RefusalExplained.kind: ('A "no" cannot be taken back.', "Say that it is so now, where the step offers it."),
    e.HeldTriedAgain.kind: ("Nothing was answered since you went back to it.", "Press the lines on screen."),
    e.SomethingChanged.kind: ("What has happened cannot be taken back.", "What it ended is asked again."),
    e.AloneSaid.kind: ("Who is there cannot be taken back.", '"alone" once more says the opposite.'),
    e.RunStarted.kind: ("The engine was started: that cannot be taken back.", "Switch it off and say so."),
    e.RunEnded.kind: ("The engine has run: that cannot be taken back.", '"amend" puts an earlier answer right.'),
    e.EngineOff.kind: ("The engine has run: that cannot be taken back.", '"amend" puts an earlier answer right.'),
    e.AlarmRaised.kind: ("What was seen beside the running engine cannot be taken back.", "Switch it off and say so."),
    e.SessionResumed.kind: (
        "Nothing was done since you came back.",
        '"amend" puts an earlier answer right.',
    ),
}
"""What happened to the vehicle or to people, and stays so."""


def remembered(state: State, event: e.Event) -> tuple[Act, ...]:
    """The acts with this event, where somebody did it and it is no half of the act before."""
    if type(event) not in _ABOUT or by_itself(event) or _goes_with(state, event):
        return state.acts
    act = Act(event.kind, about(event), state.events, event.clock_ms, replace(state, acts=()))
    return (*state.acts[1 - MOST_ACTS :], act)


def about(event: e.Event) -> tuple[str, ...]:
    """What an act was about."""
    value = getattr(event, _ABOUT[type(event)], "")
    return value if isinstance(value, tuple) else (value,) if value else ()


def by_itself(event: e.Event) -> bool:
    """Whether the program or the clock did it."""
    return event.who == REASONING or (isinstance(event, e.RunEnded) and event.because != "switched-off")


def of_closing(event: e.Event) -> bool:
    """Whether an event is one of several that come of closing a round, which is one act."""
    return isinstance(event, e.RoundLeft) or (isinstance(event, e.CheckAnswered) and event.closed_with_round)


def _goes_with(state: State, event: e.Event) -> bool:
    last = state.acts[-1] if state.acts else None
    if last is None or last.clock_ms != event.clock_ms:
        return False
    if isinstance(event, e.FindingTakenBack):
        return last.kind in WITH_IT
    if of_closing(event):
        return last.kind == e.CheckAnswered.kind
    anew = isinstance(event, e.CheckAnswered | e.FindingTold | e.ReadingTaken) and last.at + 1 == state.events
    return anew and last.kind in ANEW and last.about == about(event)


def undone(state: State, event: e.ActUndone) -> State:
    """The state with the last act taken back."""
    if not state.acts:
        return state
    last = state.acts[-1]
    before = {name: getattr(last.before, name) for name in RESTORED}
    looks = tuple(dict.fromkeys((*state.look_again, *last.before.look_again)))
    prepared = state.prepared
    if event.act == e.SetUpFinished.kind:
        prepared = tuple(one for one in prepared if one.check not in event.about)
    return replace(state, **before, acts=state.acts[:-1], look_again=looks, prepared=prepared)
