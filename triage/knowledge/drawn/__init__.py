"""Trees as text and pictures."""
