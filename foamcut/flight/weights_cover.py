"""Tape and paint: along which lines and over which faces, and what that weighs.  g, mm; model axes."""

from collections.abc import Iterator

import numpy as np

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Role, Surface
from foamcut.flat.drawn import Face, FoldKind
from foamcut.flat.way import Role as PieceRole
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Sort
from foamcut.flight.values import Cut, Model, Wishes
from foamcut.flight.weights_glue import fold_line
from foamcut.flight.weights_lie import Lie, bits_of, lies, vector
from foamcut.flight.weights_lines import Stretches, line
from foamcut.flight.weights_pieces import pair_name
from foamcut.flight.weights_servos import in_halves


def tape_item(model: Model) -> Item | None:
    """Tape along every hinge that is a fold, and round the joint of halves; None where there is neither.

    Round the joint: once over each face of the root, two chords.
    """
    lines = Stretches.of((*_hinges(model), *(_halves(one, model) for one in model.inputs.surfaces)))
    if not lines.length_mm > 0:
        return None
    usual = ASSUMED["tape"]
    mass, low, high = (lines.length_mm / 1000 * each for each in (usual.value, usual.low, usual.high))
    at, spread = lines.middle()
    return Item(
        key="tape",
        name="tape",
        sort=Sort.GLUE,
        mass_g=mass,
        low_g=low,
        high_g=high,
        at=at,
        spread_mm2=spread,
        source=f"{lines.length_mm / 1000:.1f} m x {usual.what}; {usual.source}",
        assumed=("tape",),
    )


def _hinges(model: Model) -> Iterator[Stretches]:
    for one in model.standing:
        for fold in one.part.folds:
            if fold.kind is FoldKind.HINGE:
                yield fold_line(one, fold)


def _halves(surface: Surface, model: Model) -> Stretches:
    """Over both faces of the root of a surface that is made in halves, laid where its underside is."""
    if surface.role is Role.FIN or not in_halves(surface, model):
        return Stretches.of(())
    panel = panels(surface)[0]
    first = panel.first
    ends = (first.back_mm, first.back_mm + first.chord_mm)
    one = line([panel.point(c, first.out_mm, 0.0) for c in ends])
    return Stretches(one.middles, 2 * one.lengths)


def paint_items(model: Model, wishes: Wishes) -> tuple[Item, ...]:
    """Paint over the outside, where the design asks for it: of what has a place, and of what has none.

    A part drawn on its inner face shows the other one; of one drawn on its outer face both show when it is
    flat but for hinges, and one when it is folded or belongs to a motor mount, whose other face lies inside;
    a strip, a former, a plate (either face) shows none, nor does a doubler.
    """
    each = wishes.paint_g_m2
    if not each:
        return ()
    inside = {f"{body.name}-doubler" for body in model.inputs.bodies}
    mounts = tuple(one.key for one in model.inputs.motors)
    faces = [(cut, _faces(cut, inside, mounts)) for cut in model.cuts]
    shown = [(cut, count) for cut, count in faces if count]
    stands = {one.part.name: one for one in model.standing}
    where = lies(
        [
            bits_of(cut.piece, stands[cut.piece.part.name]) if cut.piece.part.name in stands else ()
            for cut, _ in shown
        ]
    )
    areas = [cut.piece.outline.area * cut.count * count for cut, count in shown]
    found = []
    for place in (True, False):
        ours = [(a, lie) for a, lie in zip(areas, where, strict=True) if (lie is not None) is place]
        area = sum(a for a, _ in ours)
        if area > 0:
            found.append(_paint(wishes, each, area, _middle([(a, lie) for a, lie in ours if lie])))
    return tuple(found)


def _faces(cut: Cut, inside: set[str], mounts: tuple[str, ...]) -> int:
    """How many faces of a piece are outside."""
    part = cut.piece.part
    if cut.piece.role is PieceRole.DOUBLER or part.face is Face.EITHER or pair_name(part) in inside:
        return 0
    if part.key.startswith(mounts):
        return 1
    flat = all(fold.kind is FoldKind.HINGE for fold in part.folds)
    return 2 if part.face is Face.OUTER and flat else 1


def _middle(weighted: list[tuple[float, Lie]]) -> Lie | None:
    if not weighted:
        return None
    share = np.array([area for area, _ in weighted])
    share = share / share.sum()
    middles = np.array([lie.at for _, lie in weighted])
    spreads = np.array([lie.spread_mm2 for _, lie in weighted])
    at = share @ middles
    return Lie(at=vector(at), spread_mm2=vector(share @ (spreads + (middles - at) ** 2)))


def _paint(wishes: Wishes, each_g_m2: float, area_mm2: float, lie: Lie | None) -> Item:
    mass = area_mm2 / 1e6 * each_g_m2
    return Item(
        key=f"{wishes.key}.paint",
        name="paint" if lie else "paint on parts without a place",
        sort=Sort.GLUE,
        mass_g=mass,
        low_g=mass,
        high_g=mass,
        at=lie.at if lie else None,
        spread_mm2=lie.spread_mm2 if lie else (0.0, 0.0, 0.0),
        source=f"{area_mm2 / 1e4:.0f} dm2 of outside as given",
    )
