"""Helpers of these tests are found beside them and beside the reader's tests."""

import sys
from pathlib import Path

# Test modules are imported one by one, not as a package: this makes their helpers findable.
_HERE = Path(__file__).parent
sys.path[:0] = [str(_HERE), str(_HERE.parent / "scenario")]
