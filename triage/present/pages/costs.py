"""The costs of putting it right as a table that a customer can read: in plain text that fits every screen."""

import textwrap
from collections.abc import Sequence

from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.steps.costs_line import money, part_names
from triage.present.steps.shares import TURNED_AWAY, share
from triage.record.prices import NotWeighed, RepairChoice, VisitCost
from triage.session.state import State

TABLE = 56
"""Characters in a line: what is left of the narrowest screen beside its borders."""
BETWEEN, LEAST_NAME = 2, 16
Row = tuple[Sequence[str], Sequence[str]]
"""What stands on the left, line by line, and the figures on the right of its last line."""
NO_PRICES = "The shop file has no prices: this is labour alone, and no money is named."
SAFETY = (
    "Money never decides over safety: what makes running unsafe is put right whatever it costs, and the vehicle "
    "maker's procedure comes first."
)
ONE_FAULT = "How likely each fault is to have made the complaint comes from judgement, not from counted vehicles."


def costs_page(knowledge: Knowledge, state: State) -> list[str]:
    """The costs as recorded with the conclusion, before that from the findings so far."""
    if state.closed == "turned-away":
        return [TURNED_AWAY]
    choice = state.costs
    if choice is None:
        return ["No costs were recorded with this conclusion."]
    return costs_lines(knowledge, state, choice) or ["No repair of the drive can be weighed for what was found."]


def costs_lines(knowledge: Knowledge, state: State, choice: RepairChoice) -> list[str]:
    """The tables with what they rest on; nothing where no repair could be weighed."""
    if not choice.tries:
        return []
    lines = [_heading(choice)]
    if choice.currency and choice.visits:
        lines += ["", *_visits(knowledge, choice)]
    lines += ["", *_tries(knowledge, choice)]
    if choice.worn:
        lines += ["", *_worn(knowledge, choice)]
    if choice.not_weighed:
        lines += ["", "Not weighed:", *(f"  {_missing(knowledge, one)}" for one in choice.not_weighed)]
    return [*lines, "", _hours_from(knowledge, state, choice), ONE_FAULT, SAFETY]


def _heading(choice: RepairChoice) -> str:
    if not choice.currency:
        return NO_PRICES
    return f"Amounts in {choice.currency}, labour at {money(choice.hour_rate)} an hour. Prices: {choice.source}."


def _visits(knowledge: Knowledge, choice: RepairChoice) -> list[str]:
    rows = [_visit(knowledge, one, best=place == 0) for place, one in enumerate(choice.visits)]
    weighed = bool(choice.kept_m and choice.worn)
    worn = (
        f"what worn parts that stay in are expected to cost sooner than new ones over {_kilometres(choice.kept_m)} more"
        if weighed
        else "nothing, as it is not known how long parts last or how old they are"
    )
    return [
        "What to do in this visit",
        *table(("now", "tries", "worn", "in all"), rows),
        "* least expected cost",
        f'"Tries": expected for further tries in case it is something else. "Worn": {worn}.',
    ]


def _visit(knowledge: Knowledge, visit: VisitCost, *, best: bool) -> Row:
    first, *others = (knowledge.remedies[one].name for one in visit.remedies)
    sign = "* " if best else "  "
    names = [f"{sign}{first}", *(f"  + {name}" for name in others)]
    return names, [money(one) for one in (visit.now, visit.further, visit.ahead, visit.total)]


def _tries(knowledge: Knowledge, choice: RepairChoice) -> list[str]:
    titles = ("cures", "hours", "parts", "cost") if choice.currency else ("cures", "hours")
    rows = [_try(knowledge, place, choice) for place in range(len(choice.tries))]
    unit = choice.currency or "h"
    expected = f"Expected for these tries: {money(choice.expected)} {unit}."
    if choice.by_likelihood > choice.expected:
        expected += f" With the likeliest cure first, whatever it costs: {money(choice.by_likelihood)} {unit}."
    return ["If it cannot be told which it is: what to try first", *table(titles, rows), expected]


def _try(knowledge: Knowledge, place: int, choice: RepairChoice) -> Row:
    one = choice.tries[place]
    names = [f"{place + 1} {knowledge.remedies[one.remedy].name}"]
    if one.look:
        names.append(f"  look first: {knowledge.checks[one.look].name}, {money(one.trial)} {choice.currency or 'h'}")
    elif any(before.remedy == one.remedy for before in choice.tries[:place]):
        names.append("  whatever the look before said: a look can miss it")
    figures = [share(one.cures), f"{one.hours:.2f}"]
    return names, [*figures, money(one.parts), money(one.cost)] if choice.currency else figures


def _worn(knowledge: Knowledge, choice: RepairChoice) -> list[str]:
    names = part_names(knowledge)
    rows = [
        (
            [names.get(one.part, one.part)],
            [_kilometres(one.driven_m), "at failure" if one.best_m is None else _kilometres(one.best_m)],
        )
        for one in choice.worn
    ]
    return [
        "Worn parts",
        *table(("driven", "pays up to"), rows),
        'As old as the vehicle unless told with "part age". "Pays up to": if renewed in visits of its own, for ever.',
    ]


def _missing(knowledge: Knowledge, one: NotWeighed) -> str:
    name = knowledge.remedies[one.remedy].name
    return f"{name}: no price for {', '.join(one.unpriced)}" if one.unpriced else f"{name}: its labour is not known"


def _hours_from(knowledge: Knowledge, state: State, choice: RepairChoice) -> str:
    named = {one.remedy for one in choice.tries} | {one for visit in choice.visits for one in visit.remedies}
    accesses = {access for one in named for access in knowledge.remedies[one].access}
    labour = {
        **{one: knowledge.remedies[one].hours for one in sorted(named)},
        **{one: knowledge.accesses[one].hours for one in sorted(accesses)},
    }
    given = [figure.source for name, figure in labour.items() if figure and name not in state.prices.hours]
    titles = [knowledge.sources[source].title for source in dict.fromkeys(given)]
    own = ["the shop file"] if state.prices.hours.keys() & labour.keys() else []
    return f"Hours: {'; '.join([*own, *titles])}. Labour that works share is counted once in a visit."


def table(titles: Sequence[str], rows: Sequence[Row]) -> list[str]:
    """Rows with their figures to the right, long names folded; the titles stand above the figures."""
    columns = zip(titles, *(figures for _, figures in rows), strict=True)
    widths = [BETWEEN + max(map(len, column)) for column in columns]
    wide = max(TABLE - sum(widths), LEAST_NAME)
    lines = [" " * wide + _beside(titles, widths)]
    for names, figures in rows:
        lined = [clean_line(name) for name in names]
        folded = [line for name in lined for line in textwrap.wrap(name, wide - 1, subsequent_indent="    ")]
        *above, last = folded
        lines += [*above, last.ljust(wide) + _beside(figures, widths)]
    return lines


def _beside(figures: Sequence[str], widths: Sequence[int]) -> str:
    return "".join(figure.rjust(width) for figure, width in zip(figures, widths, strict=True))


def _kilometres(metres: float) -> str:
    return f"{round(metres / 1e6) * 1000:,} km".replace(",", " ")
