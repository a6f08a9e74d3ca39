"""Rules that keep people away from what turns, is hot or live."""
