"""A pack read back: is it whole, do its documents agree, is its geometry true?

The files come as bytes by name; nothing of the search or of the writers is used.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from foamcut.compare.pack_layout import layout_faults

MANIFEST, LAYOUT, DESIGN, BALANCE = "manifest.json", "layout.json", "design.toml", "balance.json"
#: there while a pack is being put in place
REPLACING = ".replacing.json"
#: how files of a pack end: others in the folder are the builder's own
_ENDINGS = (".dxf", ".svg", ".pdf", ".csv", ".json", ".html", ".glb", ".toml")
VERSION = 1
#: faults that are told
MAX_FAULTS = 100
#: letters of one of them: names of 200 letters may stand in it twice
_LONGEST = 600


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """What is wrong with a file of a pack."""

    file: str
    text: str


@dataclass(frozen=True, kw_only=True)
class PackRead:
    """What a pack is by its manifest, and what is wrong with it."""

    name: str
    revision: str
    sha256: str
    program: str
    files: int
    faults: tuple[Fault, ...]

    @property
    def whole(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults

    @property
    def sentence(self) -> str:
        """What the pack is and whether it is whole, in one line."""
        what = f"{self.name or 'a pack without a name'}, revision {self.revision or '-'}"
        by = f"{self.files} files by foamcut {self.program or '(version not told)'}"
        found = f"NOT whole, {len(self.faults)} fault{'s' * (len(self.faults) != 1)}"
        return f"{what}: {by}; {'whole' if self.whole else found}"


def pack_read(files: Mapping[str, bytes]) -> PackRead:
    """Look a pack over: manifest, hashes, documents that name one design, sheets and pieces."""
    if MANIFEST not in files:
        text = "is missing: this is no pack, or one that was not copied whole"
        missing = (Fault(file=MANIFEST, text=text),)
        return PackRead(name="", revision="", sha256="", program="", files=0, faults=missing)
    document, faults = _document(files, MANIFEST, "foamcut-manifest")
    rows = _rows(document)
    design = document.get("design")
    facts: Mapping[str, Any] = design if isinstance(design, dict) else {}
    if not faults:
        faults = [*_listed(files, rows), *_same_design(files, facts)]
        layout, wrong = _document(files, LAYOUT, "foamcut-layout")
        told = islice(layout_faults(layout), MAX_FAULTS)  # a layout piled up has one for every two pieces
        faults += wrong or [Fault(file=LAYOUT, text=one_line(text, _LONGEST)) for text in told]
    if REPLACING in files:
        text = "a new pack is half in place; the next `foamcut cut` into this folder finishes it"
        faults = [Fault(file=REPLACING, text=text), *faults]
    return PackRead(
        name=one_line(facts.get("name")),
        revision=one_line(facts.get("revision")),
        sha256=one_line(facts.get("sha256")),
        program=one_line(document.get("foamcut")),
        files=len(rows),
        faults=tuple(faults[:MAX_FAULTS]),
    )


def read_json(data: bytes) -> dict[str, Any]:
    """A JSON object; empty when it is none."""
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _document(files: Mapping[str, bytes], name: str, kind: str) -> tuple[dict[str, Any], list[Fault]]:
    """A JSON document of ours, and why it cannot be read."""
    if name not in files:
        return {}, [Fault(file=name, text="is missing")]
    found = read_json(files[name])
    if not found:
        return {}, [Fault(file=name, text="is no JSON; the file is damaged")]
    if found.get("format") != kind:
        return {}, [Fault(file=name, text=f"is no document of the kind {kind}")]
    version = found.get("version")
    if version != VERSION or isinstance(version, bool):
        newer = isinstance(version, int) and version > VERSION
        what = "of a newer version; look it over with a newer foamcut" if newer else "of no known version"
        return found, [Fault(file=name, text=f"is {what}")]
    return found, []


def _rows(document: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    rows = document.get("files")
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _listed(files: Mapping[str, bytes], rows: list[Mapping[str, Any]]) -> Iterator[Fault]:
    """Files that are missing, changed, listed twice or not at all."""
    names = [one_line(row.get("name")) for row in rows]
    for row, name in zip(rows, names, strict=True):
        data = files.get(name)
        if data is None:
            yield Fault(file=name, text="is missing")
        elif row.get("bytes") != len(data):
            told = one_line(str(row.get("bytes")), 20)
            yield Fault(file=name, text=f"has {len(data):,} bytes; the manifest says {told}")
        elif row.get("sha256") != hashlib.sha256(data).hexdigest():
            yield Fault(file=name, text="is not what the manifest says: its contents were changed")
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield Fault(file=name, text="stands in the manifest twice")
    for name in sorted(set(files) - set(names) - {MANIFEST, REPLACING}):
        if name.endswith(_ENDINGS):
            yield Fault(file=name, text="is not in the manifest: it did not come with this pack")
    for name in (DESIGN, LAYOUT):
        if name not in names:
            yield Fault(file=name, text="does not stand in the manifest")


def _same_design(files: Mapping[str, bytes], facts: Mapping[str, Any]) -> Iterator[Fault]:
    """Documents that speak of another design than the one in the pack."""
    due = hashlib.sha256(files.get(DESIGN, b"")).hexdigest()
    if DESIGN in files and facts.get("sha256") != due:
        yield Fault(file=MANIFEST, text="names another design.toml than the one in the pack")
    for name in (LAYOUT, BALANCE):
        if name in files and read_json(files[name]).get("design") != facts:
            yield Fault(file=name, text="was made from another design than the manifest names")


def one_line(value: object, most: int = 200) -> str:
    """A text of a document for the screen: one line, of letters that print."""
    text = value if isinstance(value, str) else ""
    return "".join(letter if letter.isprintable() else "?" for letter in text[:most])
