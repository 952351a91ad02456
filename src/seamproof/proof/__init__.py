"""Does it add up? Runs every step over the cut cloth with its own geometry."""
