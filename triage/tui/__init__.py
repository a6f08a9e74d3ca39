"""The full-screen face: the same words and the same typed lines as the plain chat, on a screen of its own."""
