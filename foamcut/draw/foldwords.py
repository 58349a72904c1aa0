"""What is said of folds and bevels: what to cut, from which face, how far the panel turns and to which side.

"Towards you" and "away from you" speak of the drawn face that lies up; "up" would be taken for the arrow
UP, which shows where up is on the model.  A wrap has two edges and turns at one: the letter there is named.
A strip turns at both; where it does so by different angles, each stands behind the letter of its edge.
ASCII, as all words on a part.
"""

import math

from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from foamcut.draw.worked import FROM_THE_BACK, turning
from foamcut.flat.bevels import Bevel
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

_BACK = " from the back"
#: angles are written to a tenth of a degree
_SAME_DEG = 0.05
_LETTERS = {
    FoldKind.SCORE: Line.HALF,
    FoldKind.GROOVE: Line.GROOVE,
    FoldKind.WRAP: Line.LIFT,
    FoldKind.ROLL: Line.HALF,
    FoldKind.HINGE: Line.HALF,
    FoldKind.STRIP: Line.LIFT,
}


def fold_words(fold: Fold) -> str:
    """One fold in words, for example ``groove, fold 90 deg towards you``."""
    back = _BACK if fold.cut_behind else ""
    hither = "towards you" if fold.rises else "away from you"
    way = f"{_deg(fold.turn_deg)} {hither}"
    if fold.kind is FoldKind.ROLL:
        radius = decimal_text(fold.radius_mm or 0.0)
        return f"{score_count(fold)} scores{back}, roll {way}, outer R {radius} mm"
    lift = f"lift out {decimal_text(fold.band_mm[1] - fold.band_mm[0], 2)} mm{back}"
    if fold.kind is FoldKind.WRAP:
        return f"wrap: {lift}, fold {way} at {STYLES[turning(fold)].letter}"
    if fold.kind is FoldKind.STRIP:
        near, far = (decimal_text(turn, 1) for turn in strip_turns_deg(fold))
        if near == far:
            return f"strip: {lift}, fold {way} at both edges"
        return f"strip: {lift}, fold {near} and {far} deg {hither}, at {' and '.join(edge_letters(fold))}"
    if fold.kind is FoldKind.HINGE:
        bevel = f", bevel {_deg(hinge_bevel_deg(fold))}" if fold.bevel else ""
        return f"hinge{back}{bevel}{f', turn {way}' if fold.turn_deg else ''}"
    wider = groove_wider_deg(fold)
    return f"{fold.kind.value}{back}{f', V of {_deg(wider)}' if wider else ''}, fold {way}"


def fold_code(fold: Fold) -> str:
    """One fold by the letters of its lines, for where its words find no room: ``G 90 FU``."""
    line = _LETTERS[fold.kind]
    letter = STYLES[FROM_THE_BACK[line] if fold.cut_behind else line].letter
    if not fold.turn_deg:
        return letter
    wider = groove_wider_deg(fold)
    vee = f" V {decimal_text(wider, 1)}" if wider else ""
    if fold.kind is FoldKind.STRIP:
        near, far = (decimal_text(turn, 1) for turn in strip_turns_deg(fold))
        return f"{letter} {near} + {far} {STYLES[turning(fold)].letter}"
    return f"{letter} {decimal_text(fold.turn_deg, 1)}{vee} {STYLES[turning(fold)].letter}"


def strip_turns_deg(fold: Fold) -> tuple[float, float]:
    """By how much the paper of a strip turns at its line and at its far edge."""
    return fold.turn_deg, fold.far_turn_deg or 0.0


def edge_letters(fold: Fold) -> tuple[str, ...]:
    """The letters of the edges at which a wrap or a strip turns, the nearest to its line first."""
    letter = STYLES[turning(fold)].letter
    if fold.kind is not FoldKind.STRIP:
        return (letter,)
    near, far = (decimal_text(turn, 1) for turn in strip_turns_deg(fold))
    return (letter, letter) if near == far else (f"{letter} {near}", f"{letter} {far}")


def bevel_words(bevel: Bevel) -> str:
    """One bevelled edge in words."""
    return f"bevel {_deg(bevel.angle_deg)}{_BACK if bevel.cut_behind else ''}"


def bevel_code(bevel: Bevel) -> str:
    """One bevelled edge by the letter of its line: ``B 45``."""
    letter = STYLES[Line.BEVEL_BACK if bevel.cut_behind else Line.BEVEL].letter
    return f"{letter} {decimal_text(bevel.angle_deg, 1)}"


def score_count(fold: Fold) -> int:
    """How many scores a roll has; one that a hole parts is one."""
    return len({round(left_mm(fold, run[0].start), 3) for run in fold.half})


def hinge_bevel_deg(fold: Fold) -> float:
    """The angle from square at which the edge along a hinge is cut."""
    width = max(abs(left_mm(fold, run[0].start)) for run in fold.bevel)
    return math.degrees(math.atan2(width, fold.thickness_mm))


def groove_wider_deg(fold: Fold) -> float:
    """The angle of a groove's V where it is cut wider than the fold turns; 0 where it is folded shut."""
    if fold.kind is not FoldKind.GROOVE:
        return 0.0
    low, high = fold.band_mm
    vee = 2 * math.degrees(math.atan2(high - low, 2 * fold.thickness_mm))
    return vee if vee - fold.turn_deg > _SAME_DEG else 0.0


def left_mm(fold: Fold, point: Point) -> float:
    """How far a point lies to the left of a fold's line."""
    (x0, y0), (x1, y1) = fold.start, fold.end
    return ((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / math.dist(fold.start, fold.end)


def _deg(angle: float) -> str:
    return f"{decimal_text(angle, 1)} deg"
