"""Files: the only place that opens them."""
