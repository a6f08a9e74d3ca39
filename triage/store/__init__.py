"""Traces on disk, and the shop file's place."""
