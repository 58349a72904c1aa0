"""Gauges for joining the halves of a wing or tail: props of true height, and cards of the angle of joints.

mm, degrees.  Method: a panel that stands at an angle over the table has its far end length x sin(angle) up;
with one half flat the other stands at twice the dihedral (common practice).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.skin_marks import tip_heights
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.draw.balance_words import shortened
from foamcut.draw.flow import Block
from foamcut.draw.gauges_cards import (
    Card,
    angle_words,
    cut_edge,
    fine,
    gauge,
    in_a_row,
    lean_card,
    length_words,
    name_words,
    text,
)
from foamcut.draw.values import Line
from foamcut.flat.part import Part
from foamcut.units import decimal_text, inch_text

#: lower ones need no prop, and flatter joints no card
_LEAST_MM, _LEAST_DEG = 1.0, 0.2
#: width of a prop, and the highest piece of one that is drawn, and how many of them at most
PROP_MM, _PIECE_MM, _PIECES = 40.0, 180.0, 4
#: of the cards for joints: length of the foot, and their least and greatest height
_FOOT_MM, _HEIGHT_MM = 60.0, (35.0, 80.0)
_LETTERS = "ABCD"


@dataclass(frozen=True, slots=True, kw_only=True)
class Prop:
    """How high something is propped: what, how the height is found, and a lower height that is marked on"
    " it."""

    height_mm: float
    what: str
    formula: str
    marked_mm: float | None = None


def props(surface: Surface, units: str = "mm") -> tuple[Prop, ...]:
    """The props of a wing or tail from the root out; none where it is flat, and none of a fin."""
    if surface.role is Role.FIN:
        return ()
    several = panels(surface)
    found = list(_root_prop(surface, several, units))
    for inner, outer in pairwise(several):
        angle = outer.first.dihedral_deg - inner.first.dihedral_deg
        height = outer.length_mm * math.sin(math.radians(angle))
        if abs(height) >= _LEAST_MM:
            way = "" if height > 0 else ", turned upside down"
            begins = length_words(outer.first.out_mm, units)
            found.append(
                Prop(
                    height_mm=abs(height),
                    what=f"the outer end of the panel that begins {begins} out, with the panel inside it"
                    f" flat on the table{way}",
                    formula=f"{_long(outer.length_mm, units)} x sin({angle_words(angle)})",
                )
            )
    return tuple(found)


def _root_prop(surface: Surface, several: Sequence[Panel], units: str) -> Iterator[Prop]:
    both, one_flat = tip_heights(surface)
    if several[0].first.out_mm != 0 or not several[0].first_tilt_deg or abs(one_flat) < _LEAST_MM:
        return
    turned = ", both turned upside down" if one_flat < 0 else ""
    marked = abs(both) if both * one_flat > 0 and _LEAST_MM <= abs(both) < abs(one_flat) else None
    root, sign = several[0].first.dihedral_deg, math.copysign(1.0, one_flat)
    angles = [sign * (panel.first.dihedral_deg + root) for panel in several]
    sums = [
        f"{_long(panel.length_mm, units)} x sin({decimal_text(angle, 2)} deg)"
        for panel, angle in zip(several, angles, strict=True)
    ]
    yield Prop(
        height_mm=abs(one_flat),
        what=f"the underside of one tip, with the other half flat on the table{turned}",
        formula=" + ".join(sums),
        marked_mm=marked,
    )


def _long(mm: float, units: str) -> str:
    """A length in a formula, without its unit."""
    return inch_text(mm) if units == "in" else decimal_text(mm)


def prop_gauges(inputs: Inputs, units: str, width_mm: float) -> Iterator[Block]:
    """Strips of the height of each prop."""
    for surface in inputs.surfaces:
        for prop in props(surface, units):
            yield _prop(surface, prop, units, width_mm)


def _prop(surface: Surface, prop: Prop, units: str, width_mm: float) -> Block:
    named = name_words(surface.name)
    sentences = [
        f"For the dihedral of {named}: it props {prop.what}, {length_words(prop.height_mm, units)} up. Cut"
        " two"
        " from board, stand them on the table under the tip, one near the nose and one near the trailing"
        " edge,"
        " their outer face flush with the tip.",
        f"Height: {prop.formula} = {length_words(prop.height_mm, units)}.",
    ]
    if prop.marked_mm is not None:
        sentences.append(
            f"Cut at the line instead, {length_words(prop.marked_mm, units)} up, they prop both tips alike."
        )
    heading = f"Dihedral prop, {named}"
    pieces = math.ceil(prop.height_mm / _PIECE_MM - 1e-9)
    if pieces > _PIECES:
        sentences.append("It is too high to be drawn here: measure it.")
        return gauge(heading, sentences, Card(width_mm=0.0, height_mm=0.0, strokes=()), width_mm)
    if pieces > 1:
        sentences.append(
            f"It is higher than the page: cut the {pieces} pieces with letters as one strip, {_LETTERS[0]}"
            " lowest."
        )
    cards = [_strip(surface, prop, i, pieces, units) for i in range(pieces)]
    return gauge(heading, sentences, in_a_row(cards), width_mm)


def _strip(surface: Surface, prop: Prop, index: int, count: int, units: str) -> Card:
    """One of equal pieces of a prop, from the lowest."""
    high = prop.height_mm / count
    strokes = [cut_edge([(0.0, 0.0), (PROP_MM, 0.0), (PROP_MM, high), (0.0, high)])]
    rows = [length_words(prop.height_mm, units).partition(" (")[0], surface.name]
    if count > 1:
        rows.insert(0, f"{_LETTERS[index]} of {count}")
    level = high - 4.5
    texts = []
    mark = None if prop.marked_mm is None else prop.marked_mm - index * high
    if mark is not None and 0 < mark < high:
        strokes.append(fine((0.0, mark), (PROP_MM, mark), line=Line.CENTRE))
        texts.append(text("both tips", (3.0, mark + 1.0), height_mm=1.8))
    for row in rows:
        if mark is not None and level < mark + 4.0 and level + 3.0 > mark:
            level = mark - 4.5
        if level < 1.0:
            break
        texts.append(text(shortened(row, PROP_MM - 6.0), (3.0, level)))
        level -= 4.2
    return Card(width_mm=PROP_MM, height_mm=high, strokes=tuple(strokes), texts=tuple(texts))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lean:
    """How the edge of a panel leans from square at a joint, where the joint is, and whose edges they are."""

    deg: float
    where: str
    whose: str


def leans(surface: Surface, units: str = "mm") -> tuple[Lean, ...]:
    """The leaning edges at the joints of a wing or tail, from the root out.

    At the root each half leans by its whole dihedral, since both halves meet in the centre plane; at a bend
    each of the two edges by half of what it bends.
    """
    if surface.role is Role.FIN:
        return ()
    found = []
    for panel in panels(surface):
        if abs(panel.first_tilt_deg) < _LEAST_DEG:
            continue
        if panel.first.out_mm == 0:
            where, whose = "at the root", "each half, by the whole dihedral of a half"
        else:
            where = f"{length_words(panel.first.out_mm, units)} out"
            whose = "both edges that meet there, each by half of the bend"
        found.append(Lean(deg=panel.first_tilt_deg, where=where, whose=whose))
    return tuple(found)


def lean_gauges(inputs: Inputs, parts: Sequence[Part], units: str, width_mm: float) -> Iterator[Block]:
    """A card for each leaning edge."""
    for surface in inputs.surfaces:
        for one in leans(surface, units):
            yield _lean(surface, one, parts, width_mm)


def _lean(surface: Surface, one: Lean, parts: Sequence[Part], width_mm: float) -> Block:
    named = name_words(surface.name)
    angle = angle_words(one.deg)
    over = "over the panel" if one.deg > 0 else "away from the panel"
    drawn = any(
        abs(bevel.angle_deg - abs(one.deg)) < 0.01
        for part in parts
        if f"{part.key}.".startswith(f"{surface.key}.")
        for bevel in part.bevels
    )
    cut = (
        "The parts have that bevel drawn; sand it true to the card."
        if drawn
        else "The parts are cut square there: sand them to the card."
    )
    sentences = [
        f"For the edge of {named} {one.where}: {one.whose}, {angle} from square. {cut}",
        "Lay the panel flat, its underside on the table, and stand the card on the table against the edge:"
        " its"
        f" slanted edge leans {over} and touches the edge of the panel all the way up.",
    ]
    rows = [f"edge {one.where}", surface.name, f"{angle} from square"]
    low, most = _HEIGHT_MM
    lean = math.tan(math.radians(abs(one.deg)))
    high = min(max(low, _FOOT_MM / 2), most, _FOOT_MM / 2 / lean if lean else most)
    return gauge(
        f"Bevel card, {named} {one.where}", sentences, lean_card(rows, one.deg, _FOOT_MM, high), width_mm
    )
