"""The checker is a program of its own: its modules lie beside it and import each other by bare name."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
