"""The words on all parts, worked out beside the search: they hang on no sheet."""

from foamcut.draw.part import Asked, Lettered, lettered
from foamcut.draw.pieces import piece_roles
from foamcut.plan.checking import Begun
from foamcut.plan.pieces import numbers_of
from foamcut.plan.values import thicknesses_of, title_of


def asked_of(begun: Begun) -> tuple[Asked, ...]:
    """What the words hang on of every piece, each part cut in its usual way.

    A part that is cut otherwise in the end has its words worked out when it is drawn.
    """
    usual = begun.offers.usual
    pieces = [piece for one in usual for piece in one.way.pieces]
    numbers, roles = numbers_of(usual), piece_roles(pieces)
    title, thicknesses = title_of(begun.design), tuple(sorted(thicknesses_of(begun.design).items()))
    return tuple(
        Asked(piece.flat, title, numbers[piece.flat.name], thicknesses, roles.get(piece.flat.name, ""))
        for piece in pieces
    )


def letterings(asked: tuple[Asked, ...]) -> tuple[Lettered, ...]:
    """The words of each."""
    return tuple(map(lettered, asked))
