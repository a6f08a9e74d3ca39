"""Finds the faulty part of an accessory belt drive, step by step and safely, in the terminal."""

__version__ = "0.1.0"
