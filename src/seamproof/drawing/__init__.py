"""Scenes of lines, shapes and labels in inches, and their SVG and PNG."""
