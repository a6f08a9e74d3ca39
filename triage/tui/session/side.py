"""The column beside the conversation: the vehicle in words, the path so far, what is likely, what is left open."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from triage.app.advising.advice import ranking_now
from triage.errors import TooManyAtOnceError
from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.pages.any_moment import path_page
from triage.present.steps.shares import share
from triage.session.state import State
from triage.tui.marked import Marked

LATEST = 8
"""Findings that are shown; the word "path" shows all."""
LIKELIEST = 3


def vehicle_words(state: State) -> str:
    """Engine, belt and battery, as far as the session can know them."""
    condition = state.condition
    return f"engine {_engine(state)}, belt {condition.belt}, battery {condition.battery}"


def _engine(state: State) -> str:
    """Only a confirmation in force, or a run that is being timed, tells how the engine is."""
    if state.run == "running":
        return "running"
    if state.inside and state.standing and state.run != "overdue":
        return state.condition.engine
    return "not confirmed" if state.condition.engine == "stopped" else "treat as running"


def side_text(knowledge: Knowledge, state: State, likely: list[str]) -> str:
    """The whole column as text, with the lines on likely causes as they were worked out."""
    path = path_page(knowledge, state)
    before = [f"… {len(path) - LATEST} before these: path"] if len(path) > LATEST else []
    entered = state.inside if state.standing else ""
    confirmed = f"Confirmed: {knowledge.states[entered].words}" if entered else "Nothing is confirmed now."
    sections = (
        ("VEHICLE", [vehicle_words(state), confirmed]),
        ("FOUND SO FAR", [*before, *path[-LATEST:]]),
        ("LIKELY", likely),
        ("LEFT OPEN", left_open(knowledge, state)),
    )
    return "\n\n".join("\n".join([title, *map(clean_line, lines)]) for title, lines in sections if lines)


def likely_lines(knowledge: Knowledge, state: State) -> list[str]:
    """The likeliest causes, once anything was found."""
    if not state.findings:
        return []
    try:
        ranked = ranking_now(knowledge, state)[:LIKELIEST]
    except TooManyAtOnceError as error:
        return [str(error)]
    told = [f"{share(probability)}  {knowledge.causes[cause].name}" for cause, probability in ranked]
    return [*told, "Judgement: see likely"] if told else ["The findings contradict each other: see likely"]


def left_open(knowledge: Knowledge, state: State) -> list[str]:
    """What was asked for and is missing: facts not known, checks not done, readings too close to a limit."""
    facts = [f"{fact}: not known" for fact, value in state.facts.items() if value in (None, "unknown")]
    findings = [(knowledge.checks[finding.check].name, finding) for finding in state.known.values()]
    undone = [f"{name}: not done" for name, finding in findings if not finding.outcomes]
    close = [f"{name}: close to a limit" for name, found in findings if found.verdict and not found.verdict.settled]
    return [*facts, *undone, *close]


class Side(VerticalScroll, can_focus=False):
    """The column; hidden where the terminal is narrow. It ranks causes anew only when what it goes by has changed."""

    def __init__(self) -> None:
        """Know nothing yet."""
        super().__init__()
        self._ranked_for: tuple[object, ...] = ()
        self._likely: list[str] = []

    def compose(self) -> ComposeResult:
        """Lay out one text."""
        yield Marked(id="side-text", markup=False)

    def show(self, knowledge: Knowledge, state: State) -> None:
        """Show where the session stands; nothing is worked out where nobody sees it."""
        if not self.display:
            return
        ranked_for = (state.findings, state.facts, state.renewed_at_m, state.layout)
        if ranked_for != self._ranked_for:
            self._ranked_for, self._likely = ranked_for, likely_lines(knowledge, state)
        self.query_one("#side-text", Marked).show(side_text(knowledge, state, self._likely))
