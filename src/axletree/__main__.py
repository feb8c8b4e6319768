"""`python -m axletree`: the same commands as the script `axletree`."""

import sys

from axletree.cli import main

if __name__ == "__main__":
    sys.exit(main())
