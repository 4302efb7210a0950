"""`python -m feedstock`."""

import sys

from .cli import main

sys.exit(main())
