"""Numbers as text in files: plain decimals that every reader takes."""

import math

#: decimals of a mm that files carry: a nanometre, far below what cuts or prints
PLACES = 6


def rounded(value: float, places: int = PLACES) -> float:
    """The value to so many decimals, never -0.

    Raises
    ------
    ValueError
        It is not finite: a bug in the caller.
    """
    if not math.isfinite(value):
        raise ValueError(f"not a number that can be drawn: {value}")
    return round(value, places) + 0.0


def plain(value: float, places: int = PLACES) -> str:
    """The value to so many decimals, without an exponent, trailing noughts or -0.

    Raises
    ------
    ValueError
        It is not finite: a bug in the caller.
    """
    text = f"{rounded(value, places):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
