"""The arithmetic of the bay: each formula with its parts, its source and its uncertainty."""
