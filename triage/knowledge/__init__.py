"""What the trade knows, as frozen models, and the one function that picks the next step."""
