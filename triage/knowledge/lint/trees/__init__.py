"""Rules for a tree as a whole: every way leads on, and to an end."""
