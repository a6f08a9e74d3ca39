"""The command line: the only place where clock, folders and faces are put together."""
