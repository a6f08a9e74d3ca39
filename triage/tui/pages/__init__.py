"""Screens to read and to choose on."""
