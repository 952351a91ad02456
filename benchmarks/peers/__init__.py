"""Other ways of doing the same work, each run in an interpreter of its own."""
