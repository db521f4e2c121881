"""Helpers of these tests are found beside them."""

import sys
from pathlib import Path

# Test modules are imported one by one, not as a package: this makes their helpers findable.
sys.path.insert(0, str(Path(__file__).parent))
