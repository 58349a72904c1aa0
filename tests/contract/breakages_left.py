"""Damages to the rectangle that a new board keeps in one piece."""

from pathlib import Path
from typing import Any

from breakage import Collection, NotApplicableError, load, store

BREAKAGES = Collection()


def _kept(folder: Path) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the layout and its first sheet that tells what is left."""
    document = load(folder)
    sheet = next((sheet for sheet in document["sheets"] if "left" in sheet), None)
    if sheet is None:
        raise NotApplicableError("nothing is left in one piece")
    return document, sheet


@BREAKAGES.add(
    "a rectangle left that lies over a piece", r"layout.json: .*left does not keep the gap .* piece"
)
def _over(folder: Path) -> None:
    document, sheet = _kept(folder)
    sheet["left"]["corner"] = list(sheet["placed"][0]["polygon"][0][0])
    store(folder, document)


@BREAKAGES.add("a rectangle left that reaches over the edge", r"layout.json: .*left is not on the sheet")
def _off(folder: Path) -> None:
    document, sheet = _kept(folder)
    sheet["left"]["size"][1] = sheet["size"][1] - sheet["left"]["corner"][1] + 0.01
    store(folder, document)


@BREAKAGES.add("a rectangle left that could be larger", r"layout.json: .*left could be larger")
def _small(folder: Path) -> None:
    document, sheet = _kept(folder)
    sheet["left"]["size"][0] /= 2
    store(folder, document)


@BREAKAGES.add(
    "a rectangle left on a board from the shelf", r"layout.json: .*is not the new one with the least"
)
def _shelf(folder: Path) -> None:
    document, sheet = _kept(folder)
    sheet["kind"] = "on_hand"
    store(folder, document)


@BREAKAGES.add("a rectangle left without its corner", r"layout.json: .*left lacks the key 'corner'")
def _cornerless(folder: Path) -> None:
    document, sheet = _kept(folder)
    del sheet["left"]["corner"]
    store(folder, document)
