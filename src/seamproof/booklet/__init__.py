"""From results to pages."""
