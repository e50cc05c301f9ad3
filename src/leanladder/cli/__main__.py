"""`python -m leanladder.cli`, the same as the command."""

import sys

from leanladder.cli.main import main

sys.exit(main())
