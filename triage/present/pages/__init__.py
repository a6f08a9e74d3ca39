"""What can be read: pages at any moment, and a whole session."""
