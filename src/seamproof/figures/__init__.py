"""Figures: results of the stages made into scenes, one module per stage. Always true to
proportion; nothing is drawn that was not worked out."""
