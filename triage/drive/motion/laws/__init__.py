"""Each law of a moving drive in a module of its own; arrays have a row a pulley or span and a column a variant."""
