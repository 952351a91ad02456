"""The only place that knows the solver: silent, one thread, no gap, counted effort."""
