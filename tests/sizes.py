"""How much is tried: enough to be quick, or everything with EVERY_CASE=1 in the environment."""

import os


def few_or_all(few: int, everything: int) -> int:
    """The one or the other number of tries."""
    return everything if "EVERY_CASE" in os.environ else few
