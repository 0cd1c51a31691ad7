"""`python -m server` is `dewbook`."""

import sys

from server.cli import main

sys.exit(main())
