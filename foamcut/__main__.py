"""``python -m foamcut``."""

from foamcut.cli import main

main()
