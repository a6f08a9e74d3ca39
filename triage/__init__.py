"""Finds the faulty part of an accessory belt drive, step by step and safely, in the terminal."""

import os

__version__ = "0.1.0"

# Read when numpy is loaded, by whichever package comes first. The arrays here are small: several threads would wait for
# each other, on a busy machine for ten times as long as the work takes.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
