"""A pack looked over: whole by its manifest, true in its geometry, and of the design that it holds."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from foamcut import __version__
from foamcut.compare.archive import archive_files
from foamcut.compare.pack import DESIGN, LAYOUT, MANIFEST, Fault, PackRead, one_line, pack_read, read_json
from foamcut.compare.pack_layout import part_shapes
from foamcut.design.design import read_design
from foamcut.errors import PackError, Refused
from foamcut.flat.tolerances import PLACED_MM
from foamcut.plan.building import built


def files_of(pack: Mapping[str, bytes] | bytes, path: str) -> Mapping[str, bytes]:
    """The files of a pack by name, out of a ZIP file where it is one.

    Raises
    ------
    PackError
        The ZIP file is damaged or no pack.
    """
    return archive_files(pack, path) if isinstance(pack, bytes) else pack


def design_of(pack: Mapping[str, bytes] | bytes, path: str) -> bytes:
    """The design that a pack holds, byte for byte.

    Raises
    ------
    PackError
        As `files_of`; or there is none in it.
    """
    found = files_of(pack, path).get(DESIGN)
    if found is None:
        raise PackError(f"{path}: holds no {DESIGN}; give a design, or the pack of one")
    return found


def is_pack(data: bytes) -> bool:
    """Whether the bytes are a pack of ours in one ZIP file: it may be replaced by a new one."""
    try:
        return bool(read_json(archive_files(data, "").get(MANIFEST, b"")))
    except PackError:
        return False


def is_of_some_parts(layout: bytes) -> bool:
    """Whether a layout.json is that of some parts of a design alone."""
    return "only" in read_json(layout)


def verified(pack: Mapping[str, bytes] | bytes, path: str) -> PackRead:
    """What a pack is and what is wrong with it.

    Whether its parts are those of its design is asked only where this version made it: another one may
    make them otherwise.

    Raises
    ------
    PackError
        As `files_of`.
    """
    files = files_of(pack, path)
    read = pack_read(files)
    if not read.whole or read.program != __version__:
        return read
    return replace(read, faults=tuple(_untrue(files)))


def _untrue(files: Mapping[str, bytes]) -> Iterator[Fault]:
    """Parts of the layout that are not those of the design."""
    try:
        design = read_design(files[DESIGN], DESIGN)
        due = {part.name: part for part in built(design, looked_over=False).parts}
    except Refused as err:
        first = err.refusals[0]
        yield Fault(file=DESIGN, text=f"is refused: {first.key}: {first.text}")
        return
    layout = read_json(files[LAYOUT])
    only, added = (_texts(layout.get(key)) for key in ("only", "added"))
    names = only if "only" in layout else list(due)
    shapes: dict[str, Any] = part_shapes(layout)
    for name in (*names, *(name for name in shapes if name not in names)):
        shown = one_line(name)
        if name in added:
            continue
        if name not in shapes:
            yield Fault(file=LAYOUT, text=f"the part {shown} of the design is not in it")
        elif name not in due:
            yield Fault(file=LAYOUT, text=f"the part {shown} is not in the design")
        else:
            outline = due[name].outline.polygon
            off = outline.symmetric_difference(shapes[name]).area
            if off > PLACED_MM * outline.length:
                yield Fault(file=LAYOUT, text=f"the part {shown} has not the outline of the design")


def _texts(value: object) -> list[str]:
    """The texts of a list; none of what is no list."""
    return [one for one in value if isinstance(one, str)] if isinstance(value, list) else []
