"""Stage 1: what is drawn, and what has the maker fixed?"""
