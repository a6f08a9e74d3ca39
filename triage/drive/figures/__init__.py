"""What a whole drive does, each figure known or unknown with the reason."""
