"""The face's own colours: calm, dark, and far enough apart to be read in bad light."""

from textual.theme import Theme

WORKBENCH = Theme(
    name="workbench",
    dark=True,
    background="#12171b",
    surface="#12171b",
    panel="#20282e",
    foreground="#e8ebe6",
    primary="#9cc9c4",
    secondary="#b3bcc2",
    accent="#f3d9a2",
    warning="#ffc457",
    error="#ffb0a3",
    success="#b9dba6",
    text_alpha=1.0,
)
"""Contrast is held to 4.5:1 on every screen by a test that reads the painted cells."""
