"""Commands that need no session: a drive, a tool, a quantity."""
