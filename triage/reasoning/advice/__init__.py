"""What to make of it: what is likely, what is at stake, and which check is worth its minutes."""
