"""How blocks become a top, and what finishes it: setting, borders, backing, batting, binding."""
