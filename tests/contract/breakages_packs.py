"""Damages to what a pack holds: whole packs, packs of some parts alone, packs of a comparison."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from breakage import Collection, NotApplicableError, edit_text, load, store
from pack_partial import COMPARISON
from pack_presence import BOOK, GAUGES, MARKING, MARKING_ROWS, OVERVIEW

BREAKAGES = Collection()
ALONE = Collection()
COMPARED = Collection()


def _unlisted(folder: Path, name: str) -> None:
    document = load(folder, "manifest.json")
    document["files"] = [entry for entry in document["files"] if entry["name"] != name]
    store(folder, document, "manifest.json")


def _listed(folder: Path, name: str, data: bytes) -> None:
    """Put one file more into the pack, its manifest too; size and digest are told anew by who calls."""
    (folder / name).write_bytes(data)
    document = load(folder, "manifest.json")
    document["files"].append({"name": name, "bytes": 0, "sha256": "0" * 64})
    document["files"].sort(key=lambda entry: entry["name"])
    store(folder, document, "manifest.json")


@BREAKAGES.add("a pack without its gauges", r"manifest.json: gauges.pdf is not listed")
def _no_gauges(folder: Path) -> None:
    (folder / GAUGES).unlink()
    _unlisted(folder, GAUGES)


@BREAKAGES.add("an overview that is not listed", r"overview.pdf: is here and not listed")
def _overview_unlisted(folder: Path) -> None:
    _unlisted(folder, OVERVIEW)


@BREAKAGES.add(
    "a build book of more than 2 MB", r"manifest.json: book.html has .* bytes, more than 2 million"
)
def _large(folder: Path) -> None:
    path = folder / BOOK
    path.write_bytes(path.read_bytes() + b" " * 2_000_000)


@BREAKAGES.add(
    "marking-out pages of more than 3 MB", r"manifest.json: marking-out.pdf has .* more than 3 million"
)
def _large_pdf(folder: Path) -> None:
    path = folder / MARKING
    path.write_bytes(path.read_bytes() + b"\n" * 3_000_000)


@BREAKAGES.add(
    "a drawing of a comparison in a whole pack", r"manifest.json: compare-1-x.svg is listed and belongs to"
)
def _overlay(folder: Path) -> None:
    _listed(folder, "compare-1-x.svg", b"<svg/>")


def _laid(folder: Path, change: Callable[[Any], None]) -> None:
    document = load(folder)
    if "only" not in document:
        raise NotApplicableError("all parts are laid")
    change(document)
    store(folder, document)


@ALONE.add("a book in a pack of some parts", r"manifest.json: book.html is listed, and tells of the model")
def _book_of_parts(folder: Path) -> None:
    _laid(folder, lambda document: None)
    _listed(folder, BOOK, b"<!doctype html>")


@ALONE.add("a pack of some parts without its table", r"manifest.json: marking-out.csv is not listed")
def _no_table(folder: Path) -> None:
    _laid(folder, lambda document: None)
    (folder / MARKING_ROWS).unlink()
    _unlisted(folder, MARKING_ROWS)


@ALONE.add("a part laid that is not told", r"layout.json: only: names")
def _not_told(folder: Path) -> None:
    _laid(folder, lambda document: document["only"].pop())


@ALONE.add("`only` without `added`", r"layout.json: only one of `only` and `added`")
def _half(folder: Path) -> None:
    _laid(folder, lambda document: document.pop("added"))


@ALONE.add(
    "some parts for all", r"layout.json: part .* of the design is missing|manifest.json: .* is not listed"
)
def _as_all(folder: Path) -> None:
    def change(document: Any) -> None:
        del document["only"], document["added"]

    _laid(folder, change)


@ALONE.add("something added that is not laid", r"layout.json: added: strip is not among `only`")
def _added(folder: Path) -> None:
    _laid(folder, lambda document: document["added"].append("strip"))


def _said(folder: Path, change: Callable[[Any], None]) -> None:
    if not (folder / COMPARISON).exists():
        raise NotApplicableError("nothing is compared")
    document = load(folder, COMPARISON)
    change(document)
    store(folder, document, COMPARISON)


def _cut(document: Any) -> Any:
    return next(part for part in document["parts"] if part["cut"])


@COMPARED.add("a comparison of another design", r"comparison.json: new: is not the design of layout.json")
def _other(folder: Path) -> None:
    _said(folder, lambda document: document["new"].update(revision="Z9"))


@COMPARED.add("a verdict that there is not", r"comparison.json: parts\[[0-9]+\]\.verdict is 'mend'")
def _verdict(folder: Path) -> None:
    _said(folder, lambda document: _cut(document).update(verdict="mend"))


@COMPARED.add("a part kept and cut again", r"comparison.json: part .*: keep, and cuts")
def _kept(folder: Path) -> None:
    _said(folder, lambda document: _cut(document).update(verdict="keep"))


@COMPARED.add("a part cut and not laid", r"comparison.json: cut: names")
def _not_laid(folder: Path) -> None:
    _said(folder, lambda document: document["parts"][-1].update(verdict="cut again", cut=["x"]))


@COMPARED.add("a verdict without a reason", r"comparison.json: part .*: no reason is given")
def _reason(folder: Path) -> None:
    _said(folder, lambda document: document["parts"][0].update(reason=" "))


@COMPARED.add(
    "a number of seven digits in a comparison", r"comparison.json: number 1\.234567 has more than 6 digits"
)
def _digits(folder: Path) -> None:
    _said(folder, lambda document: document["numbers"][0].update(before=1.234567))


@COMPARED.add("an overlay that loads something", r"compare-1-.*: has a .*image")
def _loads(folder: Path) -> None:
    name = min(path.name for path in folder.glob("compare-1-*.svg"))
    edit_text(folder, name, "</svg>", '<image href="x.png" /></svg>')


#: of whole packs
WHOLE = tuple(BREAKAGES)
#: of those of some parts, and those of a comparison
PARTIAL = (*ALONE, *COMPARED)
