"""One job at one vehicle as a pure fold: commands in, events out, state from events."""
