"""A vehicle in practice as every face shows it: one question at a time, what may be typed, what is said to it."""
