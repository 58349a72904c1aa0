"""Keys that belong to one kind of a thing and not to another: of marks, of folds."""

import re
from collections.abc import Container, Mapping, Sequence

from foamcut.design.key_kinds import Table, keys_of
from foamcut.design.reader import Reader
from foamcut.design.structure import Path

#: for each kind the keys that it must have, and those that it may have
Belongings = Mapping[str, tuple[Sequence[str], Sequence[str]]]


def refuse_foreign(
    table: Table,
    what: str,
    kind: str,
    belongings: Belongings,
    path: Path,
    gone: Container[Path],
    reader: Reader,
) -> None:
    """Refuse keys that belong to other kinds of `what` (mark, fold), and missing ones of this kind.

    Nothing is said of what is missing where it was refused before (`gone`).
    """
    needed, allowed = belongings[kind]
    known = keys_of(type(table))
    for word in dict.fromkeys(word for due, may in belongings.values() for word in (*due, *may)):
        given = getattr(table, known[word].attribute) is not None
        if given and word not in (*needed, *allowed):
            owners = [f'"{k}"' for k, (due, may) in belongings.items() if word in (*due, *may)]
            reader.refuse(
                (*path, word), f'belongs to a {what} {" or ".join(owners)}, not to "{kind}"; take it out'
            )
        if word in needed and not given and (*path, word) not in gone:
            # "With tape: its width. Default ..." -> "its width"
            said = re.sub(r"^With [a-z]+: ", "", known[word].description).split(". ")[0].rstrip(".")
            hint = said[0].lower() + said[1:]
            reader.refuse((*path, word), f'is missing; a {what} "{kind}" needs it: {hint}')
