"""Helpers of these tests are found beside them and beside the published examples."""

import sys
from pathlib import Path

# Test modules are imported one by one, not as a package: this makes their helpers findable.
HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent / "published")]
