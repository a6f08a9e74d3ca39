"""The sheet as lines: at most 45, as wide as is asked, and every one with the number of its event."""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from triage.knowledge.models import Knowledge
from triage.present.cleaning import clean_line
from triage.present.sheet.course import CheckedStep
from triage.present.sheet.sheet import Sheet

LINES, COLUMNS, NARROWEST = 45, 88, 40
FEWEST_OF_COURSE = 8
"""Lines that the way keeps whatever else there is."""
MOST_OF_A_PART = 6
"""Lines of any other part; the rest is counted."""


def sheet_lines(knowledge: Knowledge, sheet: Sheet, columns: int = COLUMNS) -> tuple[str, ...]:
    """Lay the sheet out.

    Args:
        knowledge: names of checks and rounds.
        sheet: what stands on it.
        columns: how wide it may be; lines that are longer are wrapped, and a narrow sheet has more of them.
    """
    width = max(columns, NARROWEST)
    flags = [f"#{flag.number} {flag.words}" for flag in sheet.flags]
    parts = (
        ("", (*sheet.verdict, *sheet.about)),
        ("What told them apart, as recorded with the conclusion", sheet.apart),
        ("Not made", sheet.left_out),
        ("Work", sheet.work),
        ("Open", sheet.open),
        (f"Flags: {len(flags) or 'none'}", flags),
    )
    blocks = [list(_block(title, lines, width)) for title, lines in parts if lines or title.startswith("Flags")]
    head, rest = blocks[0], [line for block in blocks[1:] for line in block]
    room = max(LINES - len(head) - len(rest) - 2, FEWEST_OF_COURSE)
    course = _course(knowledge, sheet.course, room, width)
    return (*head, "The way", *course, *rest, *_wrapped(f"Mark {sheet.mark}", width))


def _block(title: str, lines: Sequence[str], width: int) -> Iterator[str]:
    if title:
        yield from _wrapped(title, width)
    kept = lines if not title else lines[:MOST_OF_A_PART]
    for line in kept:
        yield from _wrapped(f"  {line}" if title else line, width)
    if len(lines) > len(kept):
        yield f"  and {len(lines) - len(kept)} more: --all"


def _wrapped(line: str, width: int) -> list[str]:
    """One line, cut where it is too long for a wide sheet and wrapped on a narrow one."""
    text = clean_line(line)
    if len(text) <= width:
        return [text]
    folded = wrap(text, width, subsequent_indent="    ")
    if width < COLUMNS:
        return folded
    return folded if len(folded) <= 2 else [folded[0], f"{folded[1][: width - 1]}…"]


def _course(knowledge: Knowledge, course: Sequence[CheckedStep], room: int, width: int) -> list[str]:
    """The way, a line a check; normal ones of one stand in one line, the oldest together where it is long."""
    groups: list[list[CheckedStep]] = []
    for step in course:
        alike = groups and step.normal and all(_alike(step, other) for other in groups[-1])
        if alike:
            groups[-1].append(step)
        else:
            groups.append([step])
    start_ms = course[0].at_ms if course else 0
    lines = [_group_line(knowledge, group, start_ms, width) for group in groups]
    normal = [number for number, group in enumerate(groups) if all(step.normal for step in group)]
    while len(lines) > room and normal:
        # The oldest normal ones are counted together, as many as it takes.
        few = normal[: len(lines) - room + 1]
        counted = sum(len(groups[number]) for number in few)
        numbers = [step.number for number in few for step in groups[number]]
        kept = [line for number, line in enumerate(lines) if number not in few]
        return [f"  #{numbers[0]}-{numbers[-1]} {counted} normal results, the oldest: --all", *kept][:room]
    if len(lines) > room:
        return [*lines[: room - 1], f"  and {len(lines) - room + 1} more: --all"]
    return lines


def _alike(step: CheckedStep, other: CheckedStep) -> bool:
    return other.normal and (step.place, step.proving, step.round) == (other.place, other.proving, other.round)


def _group_line(knowledge: Knowledge, group: Sequence[CheckedStep], start_ms: int, width: int) -> str:
    first = group[0]
    since = f"+{(first.at_ms - start_ms) // 60_000} min"
    place = f"{'after repair, ' if first.proving else ''}{first.place}"
    if len(group) == 1:
        told = f"{knowledge.checks[first.check].name}: {first.words}"
        text = f"  #{first.number} {since} [{place}] {told}"
    else:
        names = ", ".join(knowledge.checks[step.check].name for step in group)
        text = f"  #{first.number}-{group[-1].number} {since} [{place}] {len(group)} normal: {names}"
    text = clean_line(text)
    return text if len(text) <= width else f"{text[: width - 1]}…"
