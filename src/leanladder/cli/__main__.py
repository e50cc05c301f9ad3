"""`python -m leanladder.cli`, the same as the command."""

import sys

from leanladder.cli.entry import run

sys.exit(run())
