"""What pieces are of their parts, in words: sections, doublers."""

from collections.abc import Iterable, Mapping

from foamcut.flat.joint import Piece, Role


def piece_roles(pieces: Iterable[Piece]) -> Mapping[str, str]:
    """By the name of a piece, what it is: ``section 1 of 2 of side-right``, ``doubler A of side-right``.

    `pieces` are those of all chosen ways, each once or more; whole parts are left out.
    """
    by_name = {piece.flat.name: piece for piece in pieces if piece.role is not Role.WHOLE}
    sections: dict[str, int] = {}
    for piece in by_name.values():
        if piece.role is Role.SECTION:
            sections[piece.part.name] = sections.get(piece.part.name, 0) + 1
    roles = {}
    for name, piece in by_name.items():
        parent = piece.part.name
        mark = piece.suffix.rpartition("-")[2]
        if piece.role is Role.SECTION:
            roles[name] = f"section {mark} of {sections[parent]} of {parent}"
        else:
            roles[name] = f"doubler {mark.upper()} of {parent}"
    return roles
