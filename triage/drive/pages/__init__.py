"""A drive and its figures as text and pictures."""
