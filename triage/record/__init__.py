"""What is stored of a session: its events, their versions and shapes, and the values inside them."""
