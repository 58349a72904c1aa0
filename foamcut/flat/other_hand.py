"""The other hand of a pair: the mirror image of a part, y -> -y, and of all that is on it."""

from dataclasses import replace

from foamcut.flat.clipping import flip
from foamcut.flat.drawn import Hand, Label
from foamcut.flat.part import Part, Slot


def other_hand(part: Part) -> Part:
    """The mirror image of a part; it keeps the joint lines of both hands, each where it lies on this one."""
    return replace(
        part,
        hand=Hand.LEFT if part.hand is Hand.RIGHT else Hand.RIGHT,
        outline=part.outline.mirrored(),
        slots=tuple(_slot_image(slot) for slot in part.slots),
        tabs=tuple(replace(t, at=flip(t.at), outline=t.outline.mirrored()) for t in part.tabs),
        marks=tuple(mark.mirrored() for mark in part.marks),
        label=_label_image(part.label),
        place=part.place.mirrored() if part.place else None,
        named=tuple((name, flip(at)) for name, at in part.named),
        folds=tuple(fold.mirrored() for fold in part.folds),
        bevels=tuple(bevel.mirrored() for bevel in part.bevels),
        joint_lines=tuple(line.mirrored() for line in part.joint_lines),
        keep_clear=tuple(keep.mirrored() for keep in part.keep_clear),
        mirror_image=not part.mirror_image,
    )


def _slot_image(slot: Slot) -> Slot:
    return replace(slot, at=flip(slot.at), turn_deg=0.0 - slot.turn_deg, outline=slot.outline.mirrored())


def _label_image(label: Label | None) -> Label | None:
    return replace(label, at=flip(label.at), turn_deg=0.0 - label.turn_deg) if label else None
