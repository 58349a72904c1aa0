"""Words of the wiring pictures: what stands under a picture, and what it shows for who cannot see it."""

from collections.abc import Iterator

from foamcut.draw.wiring_picture_parts import Node, Scheme


def notes(scheme: Scheme) -> Iterator[str]:
    """What has to be known of the wires of a picture."""
    if scheme.columns:
        yield (
            "Any two of a motor's three wires changed over turn it the other way. Propellers off while you"
            " wire and try."
        )
    parted = [one.side for one in scheme.columns if not one.feeds_receiver]
    if scheme.joined and len(scheme.columns) > 1:
        yield (
            "The design lets the receiver supplies of both speed controls meet. Ask their maker whether they"
            " bear that; else part the red wire of one and insulate it."
        )
    elif parted and scheme.receiver_pack is not None:
        yield (
            "The receiver has a pack of its own: the red wire of every speed control's lead is parted and"
            " insulated. Their maker's word comes first."
        )
    elif parted:
        yield (
            f"One supply for the receiver: the red wire of the {parted[0] or 'other'} speed control's lead is"
            " parted and insulated; minus and signal stay whole. Not needed where their maker says so."
        )
    if scheme.packs and scheme.packs[0].count > 1:
        yield (
            "Packs side by side are of one kind, with as many cells, and charged alike: plus goes to plus,"
            " minus to minus."
        )
    unlike = {words for one in scheme.columns for words in one.motor.more if words.startswith("turns")}
    if unlike:
        yield (
            "Which way a motor turns is told as seen from behind."
            + (" The two turn against each other: one propeller of each hand." if len(unlike) > 1 else "")
        )


def told(scheme: Scheme) -> str:
    """The whole picture in sentences."""
    words = []
    for i, column in enumerate(scheme.columns):
        pack = scheme.packs[i] if scheme.apart else scheme.packs[0]
        side = f"the {column.side} " if column.side else ""
        lead = f", {column.motor_lead} long" if column.motor_lead else ""
        words.append(
            f"{_said(pack)} feeds {side}{column.control.name}, which drives {side}{column.motor.name} by"
            f" three wires{lead}."
        )
        if scheme.receiver is not None:
            how = "with" if column.feeds_receiver else "without"
            words.append(f"A servo lead {how} its red wire goes from it to {scheme.receiver.name}.")
    if scheme.receiver_pack is not None and scheme.receiver is not None:
        words.append(f"{_said(scheme.receiver_pack)} feeds {scheme.receiver.name}.")
    if scheme.servos and scheme.receiver is not None:
        several = "; ".join(
            f"{one.name}{f' ({one.count} of them)' if one.count > 1 else ''}"
            f"{', ' + ', '.join(one.more) if one.more else ''}"
            for one in scheme.servos
        )
        words.append(f"Plugged into {scheme.receiver.name}: {several}.")
    return " ".join(words)


def _said(node: Node) -> str:
    name = f"{node.count} x {node.name}" if node.count > 1 else node.name
    return f"{name[:1].upper()}{name[1:]}"
