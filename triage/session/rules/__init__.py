"""What comes of each command, one family a module: (knowledge, state, command) -> events."""
