"""What counts as read: rows that were in view, for one step in one window."""

from triage.present.read_first import MOMENT_S
from triage.tui.session.unread import Unread

LATER_S = 10.0 + MOMENT_S


def test_all_rows_must_have_been_in_view_for_a_moment_not_at_the_same_time() -> None:
    unread = Unread()
    unread.expect("step", ["a", "b"])
    unread.saw(["a"], 1.0)
    assert not unread.was_read(LATER_S)
    unread.saw(["b"], 10.0)
    assert not unread.was_read(LATER_S - 0.01)
    assert unread.was_read(LATER_S)


def test_another_step_or_window_begins_anew_and_the_same_one_does_not() -> None:
    unread = Unread()
    unread.expect("step", ["a"])
    unread.saw(["a"], 10.0)
    unread.expect("step", ["a"])
    assert unread.was_read(LATER_S)
    unread.expect("step in another window", ["a"])
    assert not unread.was_read(LATER_S)


def test_rows_that_are_folded_anew_have_to_be_seen_and_can_be() -> None:
    unread = Unread()
    unread.expect("step", ["a long", "row"])
    unread.saw(["a long"], 1.0)
    unread.expect("step", ["a", "long row"])
    assert not unread.was_read(LATER_S)
    unread.saw(["a", "long row"], 10.0)
    assert unread.was_read(LATER_S)


def test_nothing_is_read_before_anything_was_in_view() -> None:
    unread = Unread()
    unread.expect("step", [])
    assert not unread.was_read(LATER_S)
