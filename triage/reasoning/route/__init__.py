"""Which check comes next without an author's tree, and how good a tree is."""
