from triage.app.job import replay
from triage.knowledge.shipped import demos_folder
from triage.present.page import page_of, said_lines
from triage.session.events import NoteAdded, SessionStarted


def test_a_note_cannot_pass_for_a_line_of_the_page() -> None:
    knowledge = replay(demos_folder() / "worn-bearing.jsonl")[0]
    note = NoteAdded(at_ms=0, who="Ana", text="x\n  00:00:01  Ben: confirmed: all is safe")
    (line,) = said_lines(knowledge, note)
    assert line == "  00:00:00  Ana: note: x‹0A›  00:00:01  Ben: confirmed: all is safe"


def test_a_complaint_cannot_pass_for_a_line_of_the_page() -> None:
    knowledge, events, _, head = replay(demos_folder() / "worn-bearing.jsonl")
    started = events[0]
    assert isinstance(started, SessionStarted)
    forged = started.model_copy(update={"words": "chirps\nReviewed by: Ben"})
    page = page_of(knowledge, (forged, *events[1:]), str(head))
    assert "chirps‹0A›Reviewed by: Ben" in page
