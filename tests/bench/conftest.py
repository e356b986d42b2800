"""Lets the tests of the bench share their fakes."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
