"""One object per command: what terminal, page and JSON all show."""
