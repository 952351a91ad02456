"""Stage 2: in which order is it sewn, from which units?"""
