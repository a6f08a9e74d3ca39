"""How likely each cause is, and which made the complaint: exact, from what was found."""
