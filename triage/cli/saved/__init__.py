"""Commands that read saved sessions."""
