"""From typed lines to commands, and the dialogues that ask more than one line."""
