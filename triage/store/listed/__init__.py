"""Which sessions are there, at a glance."""
