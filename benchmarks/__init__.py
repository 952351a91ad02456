"""What things cost, measured beside the best-known other way."""

import os

# As the program itself does: on a busy machine numpy's threads wait for each other.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
