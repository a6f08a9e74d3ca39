"""Session state as frozen views and plain text, and the one table of commands that every face uses."""
