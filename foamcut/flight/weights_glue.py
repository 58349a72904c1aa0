"""Glue: how long the glued edges of the model are, and what that weighs.  g, mm; model axes.

Counted are: edges that lie against another part, see `foamcut.flight.weights_contact`; tabs on both faces;
folds whose groove or gap is closed with glue; doublers; the trailing edge of a folded surface, and
its leading edge where two skins meet.  Not counted: hatches, which come off; a wing that dowels and bands
hold; parts without a place, whose neighbours are not known.
"""

from collections.abc import Iterator

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Build, Inputs, Nose, Role, Surface
from foamcut.flat.assembled import Standing
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.way import Role as PieceRole
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Sort
from foamcut.flight.values import Model, Wishes
from foamcut.flight.weights_contact import contacts
from foamcut.flight.weights_lines import Stretches, line, on_model

#: folds that are closed with glue: of a roll and a hinge the paper alone turns
_CLOSED = frozenset((FoldKind.GROOVE, FoldKind.WRAP, FoldKind.STRIP, FoldKind.SCORE))


def glue_item(model: Model, wishes: Wishes) -> Item | None:
    """All glue as one thing, spread as its lines are; None where nothing is glued."""
    lines = glued_lines(model)
    if not lines.length_mm > 0:
        return None
    usual, given = ASSUMED["glue"], wishes.glue_g_m
    per_m = (usual.value, usual.low, usual.high) if given is None else (given, given, given)
    mass, low, high = (lines.length_mm / 1000 * each for each in per_m)
    at, spread = lines.middle()
    metres = f"{lines.length_mm / 1000:.1f} m of glued edges"
    return Item(
        key=f"{wishes.key}.glue",
        name="glue",
        sort=Sort.GLUE,
        mass_g=mass,
        low_g=low,
        high_g=high,
        at=at,
        spread_mm2=spread,
        source=f"{metres} as given" if given is not None else f"{metres} x {usual.what}; {usual.source}",
        assumed=() if given is not None else ("glue",),
    )


def glued_lines(model: Model) -> Stretches:
    """Every glued edge of the model."""
    rule = _Rule(model.inputs)
    return Stretches.of(
        (
            *contacts(model.standing, rule.glued),
            *(lines for one in model.standing for lines in _own(one)),
            *_doublers(model),
            *(lines for surface in model.inputs.surfaces for lines in _closing(surface)),
        )
    )


class _Rule:
    """Which parts are glued where they touch, by the names of those that are made from numbers."""

    def __init__(self, inputs: Inputs) -> None:
        self._hatches = {f"{body.name}-hatch" for body in inputs.bodies}
        self._bodies = tuple(f"{body.name}-" for body in inputs.bodies)
        wings = (one for one in inputs.surfaces if one.role is Role.WING) if inputs.dowels else ()
        self._banded = tuple(f"{one.name}-" for one in wings)

    def glued(self, one: Standing, other: Standing) -> bool:
        """Whether two parts are glued to each other."""
        a, b = one.part.name, other.part.name
        if a in self._hatches or b in self._hatches:
            return False
        wing_on_body = (a.startswith(self._banded) and b.startswith(self._bodies)) or (
            b.startswith(self._banded) and a.startswith(self._bodies)
        )
        return not wing_on_body


def _own(one: Standing) -> Iterator[Stretches]:
    """The folds of a part that are closed with glue, and its tabs on both faces."""
    part = one.part
    for fold in part.folds:
        if fold.kind in _CLOSED:
            lines = fold_line(one, fold)
            # a strip turns at both its edges and is closed by one bead between them
            yield Stretches(lines.middles, lines.lengths / 2) if fold.kind is FoldKind.STRIP else lines
    for tab in part.tabs:
        x, y = tab.at
        half = tab.length_mm / 2
        # along x on the flat part: which way it runs matters little in so short a piece
        yield on_model(one, line(((x - half, y), (x + half, y), (x - half, y))), -part.thickness_mm / 2)


def fold_line(one: Standing, fold: Fold) -> Stretches:
    """Where the whole paper of a fold turns, as far as it runs on the part, in the middle of the board."""
    runs = (on_model(one, line(run_points(run)), -one.part.thickness_mm / 2) for run in fold.fold)
    return Stretches.of(runs)


def _doublers(model: Model) -> Iterator[Stretches]:
    """Half a bead round every doubler, on the drawn face, as for any board that lies flat on another."""
    for cut in model.cuts:
        stands = model.stands(cut.piece.part.name) if cut.piece.role is PieceRole.DOUBLER else None
        if stands is not None:
            ring = line(cut.piece.outline.rings()[0])
            many = Stretches(ring.middles, ring.lengths * cut.count / 2)
            yield on_model(stands, many, 0.0)


def _closing(surface: Surface) -> Iterator[Stretches]:
    """Where the skins of a folded surface are closed, on both halves: behind, and before where both end."""
    if surface.build is not Build.FOLDED:
        return
    for panel in panels(surface):
        ends = (panel.first, panel.last)
        edges = [[(one.back_mm + one.chord_mm, one.out_mm) for one in ends]]
        if surface.nose is Nose.TWO_SKINS:
            edges.append([(one.back_mm, one.out_mm) for one in ends])
        for edge in edges:
            points = [panel.point(c, s, 0.0) for c, s in edge]
            yield line(points)
            if surface.role is not Role.FIN:
                yield line([(x, 0.0 - y, z) for x, y, z in points])
