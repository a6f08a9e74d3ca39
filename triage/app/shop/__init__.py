"""The shop file and its parts."""
