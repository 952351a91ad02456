"""Drawing: scenes of cloth in inches, set on paper or screen at a scale, written as SVG.

Nothing here knows what a block or a recipe is; figures make scenes of those.
"""
