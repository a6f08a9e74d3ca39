"""What the reasoning makes of a session, as rounded figures to record."""
