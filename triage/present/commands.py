"""The one table of what a person can say at any moment. Prompt, help and documentation read it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Word:
    """One thing to say.

    Args:
        name: what is typed.
        does: what it does, for help and documentation.
        asks: the question that follows, "" where none does or where it depends on the session.
        key: the key of the full screen that says it, "" where none does.
    """

    name: str
    does: str
    asks: str = ""
    key: str = ""


WORDS: tuple[Word, ...] = (
    Word("why", "why this step, and what hurts if it is skipped", key="F2"),
    Word("tell", "what each answer would mean", key="F5"),
    Word("watch", "stopwatch for a timed reading"),
    Word("cannot", "this check cannot be done", "Why can it not be done?", key="F7"),
    Word("rest", "of a round: nothing else found; lists what it records before it does"),
    Word("apart", "leave the round: what is open is asked one by one where it is needed"),
    Word("alarm", "thrown, smoke, spray, a new knock, a warning lamp: switch off", key="F10"),
    Word("check", "ask for any check that may be made now, by number or by words"),
    Word("told", "tell what somebody found before: it counts, and no engine runs on it"),
    Word("back", "take back what you did last, and nothing else"),
    Word("amend", "put an earlier answer right", "Which one? Give its number."),
    Word("throw away", "leave out a reading that is to be made once more, with the reason"),
    Word("figure", "enter the vehicle maker's own figure", "Which figure? Give its number."),
    Word("note", "write a remark down", "What is to be noted?", key="F8"),
    Word("likely", "which causes are likely after what was found, and why"),
    Word("worth", "which check is worth its minutes now, and whether one is"),
    Word("costs", "which repair pays, and what to renew with it"),
    Word("vehicle", "put a fact of the vehicle right: pulley type, odometer, cylinders"),
    Word("part age", "say when a part was renewed before, or put that right"),
    Word("path", "what was found so far", key="F6"),
    Word("sheet", "this session on one page, as a colleague far away reads it"),
    Word("sources", "where the numbers on this step come from"),
    Word("changed", "something happened at the vehicle or around it; what it ends is asked again", key="F9"),
    Word("off", "the engine is off and all is still"),
    Word("alone", "nobody else is here; said once more, somebody came"),
    Word("pause", "leave the vehicle; confirmations end"),
    Word("hand over", "give the session to a colleague", "To whom? Give the colleague's name."),
    Word("close", "end without repair", "Why is the session closed?"),
    Word("layout", "take the layout of this vehicle's drive, or enter it"),
    Word("drive", "what this vehicle's drive does: speeds, margins, a drawing"),
    Word("drive run", "what this drive does in time: idling, slowing, switched off; with another pulley"),
    Word("rate", "what a counted or tapped repeat fits in this drive"),
    Word("tool", "work out a torque, an angle, slip, tension, a bearing's rate"),
    Word("copy", "save everything in another file or folder as well", "Where to? A new file, or a folder."),
    Word(
        "export", "write the session as one file that can travel, for a colleague", "Where to? A new file, or a folder."
    ),
    Word("help", "this list", key="F1"),
    Word("leave", "stop the program; the session is kept"),
)

SCREEN_WORDS: tuple[Word, ...] = (
    Word("taps", "tap along with a chirp or a mark on the belt", key="F3"),
    Word("trees", "walk and search the trees without a vehicle", key="F4"),
)
"""What only the full screen has."""

KEYS: tuple[tuple[str, str], ...] = (
    ("1 to 9", "answer at once, where the step says so"),
    ("Enter", "send the line"),
    ("PgUp PgDn", "read on in a step or page that is longer than its place"),
    ("Up Down", "what was said before"),
    ("Esc", "one page back"),
    ("Ctrl-Z", "back to the shell for a while; fg comes back"),
    ("Ctrl-Q", "stop; the session is kept"),
)
"""Further keys of the full screen."""


def word_for(line: str) -> Word | None:
    """The word that a line is, or None."""
    said = " ".join(line.lower().split())
    return next((word for word in WORDS if word.name == said), None)
