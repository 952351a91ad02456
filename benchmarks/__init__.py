"""What things cost, measured beside the best-known other way."""
