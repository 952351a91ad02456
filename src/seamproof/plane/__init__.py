"""Plane geometry: points, what lies on which side, the map of a drawing.

Coordinates are inches, x to the right, **y downwards**. "Left of" a directed line, "clockwise" and
"turn" are meant as seen by somebody looking at the front of the block.
"""
