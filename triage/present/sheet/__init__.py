"""One page for a colleague far away: what was found, done and proved, and what is odd, each line with its event."""
