"""What belts, pulleys, springs, bearings and tools do: plain arithmetic in SI figures."""
