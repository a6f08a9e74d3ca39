"""Questions in a session, answered in two or three lines from its knowledge and its state; the step stays."""
