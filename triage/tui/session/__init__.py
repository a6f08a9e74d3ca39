"""The screen of a session and what stands on it."""
