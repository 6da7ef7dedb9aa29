"""`python -m docgen`."""

from __future__ import annotations

import sys

from docgen.cli import main

sys.exit(main())
