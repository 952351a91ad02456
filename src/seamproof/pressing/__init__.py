"""Which way each seam lies, and how thick the block gets."""
