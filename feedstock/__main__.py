"""`python -m feedstock`."""

import sys

from .cli.entry import main

sys.exit(main())
