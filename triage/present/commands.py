"""The one table of what a person can say at any moment. Prompt, help and documentation read it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Word:
    """One thing to say.

    Args:
        name: what is typed.
        does: what it does, for help and documentation.
        asks: the question that follows, "" where none does or where it depends on the session.
    """

    name: str
    does: str
    asks: str = ""


WORDS: tuple[Word, ...] = (
    Word("why", "why this step, and what hurts if it is skipped"),
    Word("tell", "what each answer would mean"),
    Word("watch", "stopwatch for a timed reading"),
    Word("cannot", "this check cannot be done", "Why can it not be done?"),
    Word("back", "take the last answer back"),
    Word("amend", "put an earlier answer right", "Which one? Give its number."),
    Word("figure", "enter the vehicle maker's own figure", "Which figure? Give its number."),
    Word("note", "write a remark down", "What is to be noted?"),
    Word("likely", "which causes are likely after what was found, and why"),
    Word("path", "what was found so far"),
    Word("sources", "where the numbers on this step come from"),
    Word("pause", "leave the vehicle; confirmations end"),
    Word("hand over", "give the session to a colleague", "To whom? Give the colleague's name."),
    Word("close", "end without repair", "Why is the session closed?"),
    Word("layout", "take the layout of this vehicle's drive"),
    Word("drive", "what this vehicle's drive does: speeds, margins, a drawing"),
    Word("rate", "what a counted or tapped repeat fits in this drive"),
    Word("tool", "work out a torque, an angle, slip, tension, a bearing's rate"),
    Word("help", "this list"),
    Word("leave", "stop the program; the session is kept"),
)


def word_for(line: str) -> Word | None:
    """The word that a line is, or None."""
    said = " ".join(line.lower().split())
    return next((word for word in WORDS if word.name == said), None)
