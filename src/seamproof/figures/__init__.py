"""Stage results to scenes: one module per stage."""
