"""What happened in words: one structured entry for each event."""
