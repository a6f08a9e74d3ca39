"""The plain terminal face: works on a serial line, over ssh, with a screen reader."""
