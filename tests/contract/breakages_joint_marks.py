"""Damages to what the files of the sheets show of joints and doublers."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from breakage import Collection, NotApplicableError, load
from breakage_dxf import Block, change_layer, dxf_files, put, read_blocks, write_pairs

BREAKAGES = Collection()


def _doublers(document: dict[str, Any]) -> None:
    if not any(piece["role"] == "doubler" for piece in document["pieces"]):
        raise NotApplicableError("no doubler")


def _on_sections(folder: Path, layer: str, drop: Callable[[Block], bool]) -> None:
    """Take lines or texts off every sheet that has them."""
    found = False
    for path in dxf_files(folder, "front"):
        before, blocks, after = read_blocks(path)
        left = [block for block in blocks if not ((8, layer) in block and drop(block))]
        found |= len(left) < len(blocks)
        write_pairs(path, before + [pair for block in left for pair in block] + after)
    if not found:
        raise NotApplicableError(f"nothing of it on {layer}")


@BREAKAGES.add("a doubler not drawn on its sections", r"\.dxf: MARK: the outline of doubler .* is not drawn")
def _outline(folder: Path) -> None:
    """The outlines are the marks of four points and more; beds are closed."""

    def long(block: Block) -> bool:
        return sum(code == 10 for code, _ in block) >= 4 and (70, "1") not in block

    _doublers(load(folder))
    _on_sections(folder, "MARK", long)


@BREAKAGES.add("no letter on sections and doublers", r"\.dxf: LETTERING: piece .* has no letter A")
def _letter(folder: Path) -> None:
    _doublers(load(folder))
    _on_sections(folder, "LETTERING", lambda block: (1, "A") in block)


@BREAKAGES.add("another letter on the sections", r"\.dxf: LETTERING: piece .* has no letter A")
def _other_letter(folder: Path) -> None:
    _doublers(load(folder))

    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            if (1, "A") in block:
                put(block, 1, "Q")

    change_layer(folder, "LETTERING", change)


@BREAKAGES.add(
    "a doubler that does not show its joint", r"\.dxf: MARK: piece .*does not show where its joint"
)
def _joint_tick(folder: Path) -> None:
    _doublers(load(folder))
    _on_sections(folder, "MARK", lambda block: sum(code == 10 for code, _ in block) == 2)


@BREAKAGES.add(
    "the length over a joint told wrongly", r"\.dxf: NOTES: the .* mm over the joint of .* not told"
)
def _length_told(folder: Path) -> None:
    document = load(folder)
    if not document.get("joints"):
        raise NotApplicableError("no joint")
    told = f"{document['joints'][0]['length']:g} mm"

    for path in dxf_files(folder, "front"):
        before, blocks, after = read_blocks(path)
        for block in blocks:
            if (8, "NOTES") in block and block[0][1] == "TEXT":
                put(block, 1, next(value for code, value in block if code == 1).replace(told, "1 mm"))
        write_pairs(path, before + [pair for block in blocks for pair in block] + after)
