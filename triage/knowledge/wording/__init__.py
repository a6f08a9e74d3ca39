"""From what people say to what the trade calls it."""
