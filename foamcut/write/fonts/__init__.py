"""The font that PDF files carry with them: DejaVu Sans 2.37, its licence beside it.

It covers Latin with accents, Greek and Cyrillic.  Read through `importlib.resources`, so that it is
found wherever the package is installed.
"""

from importlib.resources import files

FILE_NAME = "DejaVuSans.ttf"


def font_bytes() -> bytes:
    """Return the TrueType file."""
    return (files(__name__) / FILE_NAME).read_bytes()
