"""``python -m seamproof``: the same as the command ``seamproof``."""

import sys

from seamproof.cli import main

if __name__ == "__main__":
    sys.exit(main())
