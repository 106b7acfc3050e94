"""``python -m speclint``."""

from __future__ import annotations

import sys

from speclint.cli.main import main

sys.exit(main())
