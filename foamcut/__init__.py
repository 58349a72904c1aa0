"""foamcut: from the few numbers of a scaled sketch to flat foam-board parts that can be cut."""

__version__ = "0.1.0"
