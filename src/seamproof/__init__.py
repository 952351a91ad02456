"""Seamproof: a test block without cloth."""

__version__ = "0.1.0"
