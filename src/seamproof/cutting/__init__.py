"""Stage 3: what is cut, and how is each unit made?"""
