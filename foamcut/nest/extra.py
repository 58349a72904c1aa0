"""."""


def is_there() -> bool:
    """."""
    return False
