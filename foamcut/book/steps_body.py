"""A body up to the open box: panels worked, box glued and squared, firewall and dowels.  mm."""

import math
from collections.abc import Iterator, Sequence

from foamcut.airframe.body_stands import Stand
from foamcut.airframe.motor_seat import nose_seat
from foamcut.airframe.values import Body, Corners, Motor
from foamcut.book.step import Step, Tie
from foamcut.book.steps_begin import GLUE_CAUTION
from foamcut.book.steps_cut import KNIFE_CAUTION
from foamcut.book.steps_ground import Ground, names
from foamcut.book.steps_kinds import Kind
from foamcut.book.steps_skins import mark_texts
from foamcut.book.steps_sort import Making
from foamcut.book.steps_words import deg, listed
from foamcut.book.values import Grid
from foamcut.flat.drawn import FoldKind
from foamcut.flat.part import Part

SHELL = (Kind.SIDE, Kind.TROUGH)
PLATES = (Kind.NOSE, Kind.FORMER, Kind.TAIL)
#: a leg of the three-cornered strip behind a firewall, mm (common practice, no source)
_STRIP_MM = 8.0


def panel_steps(ground: Ground, making: Making, body: Body) -> Iterator[Step]:
    """Scores, grooves, bands and slots of the panels of a body."""
    panels = ground.of(body, *SHELL, Kind.FLOOR, Kind.DECK, Kind.HATCH)
    if panels:
        yield _worked(ground, making, body, panels)


def box_steps(ground: Ground, making: Making, body: Body) -> Iterator[Step]:
    """The open box, squared; firewall and dowels."""
    if not ground.of(body, *SHELL):
        return
    yield _box(ground, making, body)
    box = ground.id("box", body)
    for motor in ground.nose_motors():
        if motor.on == body.name and (plates := ground.of(motor, Kind.FIREWALL)):
            yield _firewall(ground, motor, body, plates, box)
    dowels = [one for one in ground.facts.inputs.dowels if one.on == body.name]
    if dowels:
        ruler = ground.ruler
        does = []
        for one in dowels:
            long = body.width_mm + 2 * one.proud_mm
            places = "; ".join(f"{ruler(x)} behind the nose, {ruler.up(z)}" for x, z in one.at)
            does.append(
                f"Cut {len(one.at)} of hardwood dowel, {ruler(one.diameter_mm)} thick, each {ruler(long)}"
                f" long, and round their ends. They go through the holes in both sides: {places}. They stand"
                f" {ruler(one.proud_mm)} out on each side."
            )
        does.append(
            "Push each through both sides, square to the body, and lay a bead of epoxy round it inside and"
            " outside."
        )
        yield Step(
            id=ground.id("dowels", body),
            heading=f"Glue the dowels into {ground.the(body)}",
            does=tuple(does),
            cautions=("Epoxy harms skin and eyes: wear gloves.",),
            checks=("The dowels lie square to the body and level with each other.",),
            after=((Tie.GLUED, box),),
            shows=names(ground.of(body, *SHELL)),
            tools=("hardwood dowel", "fine saw", "epoxy"),
        )


def _worked(ground: Ground, making: Making, body: Body, panels: Sequence[Part]) -> Step:
    ruler, does = ground.ruler, []
    for part in ground.halves(panels):
        for fold in part.folds:
            wide = ruler(fold.band_mm[1] - fold.band_mm[0])
            if fold.kind is FoldKind.WRAP:
                words = (
                    f"{ground.named(part)}: lift a band of foam {wide} wide off the outer paper between each"
                    " pair of LIFT lines, and rub the paper clean; the side will stand in that band."
                )
            elif fold.kind is FoldKind.GROOVE:
                words = (
                    f"{ground.named(part)}: where it bends by {deg(fold.turn_deg)}, cut a V groove {wide}"
                    f" wide on the {'outer' if fold.cut_behind else 'inner'} face down to the far paper."
                )
            else:
                words = (
                    f"{ground.named(part)}: where it bends by {deg(fold.turn_deg)}, score the"
                    f" {'outer' if fold.cut_behind else 'inner'} face; the far paper stays whole."
                )
            if words not in does:
                does.append(words)
    if body.corners is Corners.WRAPPED:
        does.append(
            "Wrapped corners: along both long edges of floor and deck lift the foam off the outer paper up"
            f" to the line drawn there, {ruler(body.material.thickness_mm)} wide: the sides stand on that"
            " paper."
        )
    elif body.corners is Corners.MITRED:
        does.append(
            "Mitred corners: bevel the long edges that are marked to 45 degrees, taken off the inner face,"
            " with a sanding block run along a slanted guide; the outer edge stays where it is."
        )
    texts = mark_texts(panels)
    openings = [
        f'"{text}"' for text in texts if text in ("strap", "air in", "air out", "pushrod", "servo", "fin")
    ]
    openings += [f'"{text}"' for text in texts if text.startswith("dowel")]
    tails = {slot.surface.name for slot in ground.views[body.name].tail.slots} - {"fin"}
    openings += [f'"{text}"' for text in texts if text in tails]
    if openings:
        does.append(
            f"Open the slots and holes marked {listed(openings)}, and those that take the tabs of formers;"
            " try a scrap or the thing itself in each."
        )
    if any("belly tape" in text for text in texts) or any(
        "packing tape over the edge" in text for text in texts
    ):
        quoted = [f'"{text}"' for text in texts if "belly tape" in text or "packing tape" in text]
        does.append(
            "Lay the tape that is drawn on the outer face now, while the panels are flat, from the edge to"
            f" the line: {listed(quoted)}."
        )
    if not does:
        does.append("Look over every panel: edges square, marks on the inner face, openings clean.")
    return Step(
        id=ground.id("panels", body),
        heading=f"Work the panels of {ground.the(body)}",
        does=tuple(does),
        cautions=(KNIFE_CAUTION,),
        checks=(
            "Both sides, laid back to back, have every line and opening in the same place."
            if ground.of(body, Kind.SIDE)
            else "Both sides, folded up without glue, have every line and opening in the same place.",
            "A scrap of board sits in each slot without force.",
        ),
        after=(
            (Tie.CHECKED, "label"),
            *making.ties((Tie.GLUED, "joints"), (Tie.GLUED, ground.id("doublers", body))),
        ),
        adds=names(panels),
        tools=("sharp knife", "metal rule", "sanding block"),
    )


def _box(ground: Ground, making: Making, body: Body) -> Step:
    ruler = ground.ruler
    view = ground.views[body.name]
    sides, floors = ground.of(body, *SHELL), ground.of(body, Kind.FLOOR)
    plates = ground.of(body, *PLATES)
    trough = bool(ground.of(body, Kind.TROUGH))
    tabs = any(part.tabs for part in plates)
    how = " Push their tabs into the slots of the side." if tabs else ""
    glue = (
        "Fit everything once without glue, held by masking tape, before you glue: formers, floor, sides."
        " Mend now what does not meet."
    )
    if trough:
        does = [
            glue,
            f"Spread glue into both bands of {ground.all_named(sides)} and fold the sides up, square to the"
            f" floor, so that their lower edges land in the bands: the trough is then {ruler(body.width_mm)}"
            f" wide outside and {ruler(body.width_mm - 2 * body.material.thickness_mm)} inside. Hold the"
            " sides with tape across the top.",
            f"Glue the plates {ground.all_named(plates)} in, each with its front face on its line and its"
            f" foot on the floor.{how} Begin with the middle ones.",
        ]
    else:
        does = [
            glue,
            f"Lay {ground.named(sides[0])} flat, inner face up. Glue the plates {ground.all_named(plates)}"
            " upright onto it, each with its front face on its line (F1, F2 and so on; the table has the"
            f" places).{how} Hold each with a square until it stands.",
            f"Glue {ground.all_named(floors)} on, inner face in: {_floor_words(body)}",
            f"Lay {ground.named(sides[-1])} on from above, tabs into slots, and press it down onto plates and"
            " floor. Stand the box on the table, floor down, and hold it with tape round it.",
        ]
    enclosed = ground.enclosed(body)
    if enclosed:
        does.insert(
            1 if trough else len(does) - 1,
            f"Before the {'sides are folded up' if trough else 'second side goes on'}, put"
            f" {ground.all_named([p for one in enclosed for p in ground.of(one, Kind.PANEL, Kind.SKIN)])}"
            " through the slot, centre line in the middle, without glue: the slots are closed behind, and it"
            " cannot be slid in later.",
        )
    profile = view.profile
    x0, x1 = profile.front_mm, profile.rear_mm
    diagonal = math.hypot(x1 - x0, profile.top(x1) - profile.top(x0), body.width_mm)
    does.append(
        "Square it before the glue sets: measure both diagonals across the open top, from the upper front"
        f" corner of one side to the upper rear corner of the other. Both are {ruler(diagonal)}; when they"
        " differ, push the box over until they are equal, and put weights on it."
    )
    return Step(
        id=ground.id("box", body),
        heading=f"Glue the box of {ground.the(body)}, square",
        does=tuple(does),
        cautions=(GLUE_CAUTION,),
        checks=(
            f"Both diagonals across the top are {ruler(diagonal)}, equal within {ruler(1.0)}.",
            f"The box is {ruler(body.width_mm)} wide outside at every former.",
            "At each former both diagonals of the opening are equal.",
            "Sighted from the nose, the upper edges of both sides lie in one plane: the box has no twist.",
        ),
        after=(
            *making.ties(
                (Tie.GLUED, ground.id("panels", body)),
                (Tie.GLUED, ground.id("doublers", body)),
                *((Tie.SHUT_IN, ground.id("sheet", one)) for one in enclosed),
                *((Tie.SHUT_IN, ground.id("join", one)) for one in enclosed),
            ),
        ),
        adds=names((*sides, *floors, *plates)),
        shows=names(
            (*ground.of(body, Kind.DOUBLER), *(p for one in enclosed for p in ground.of(one, Kind.PANEL)))
        ),
        tools=("glue", "two squares", "rule", "masking tape", "weights"),
        blocks=(_plate_table(ground, body, view.stands, plates),) if view.stands else (),
    )


def _floor_words(body: Body) -> str:
    if body.corners is Corners.BUTT:
        return (
            "between the sides, its edges against their inner faces, its upper face on the line"
            ' "floor, inside".'
        )
    if body.corners is Corners.WRAPPED:
        return "under the sides, whose lower edges stand on the bare paper along both its edges."
    return "its bevelled edges against those of the sides."


def _plate_table(ground: Ground, body: Body, stands: Sequence[Stand], plates: Sequence[Part]) -> Grid:
    ruler = ground.ruler
    by_name = {part.name: part for part in plates}
    rows = []
    for stand in stands:
        part = by_name.get(f"{body.name}-{stand.word}")
        held = "between the doublers" if stand.doubled else "between the sides"
        if part is not None and part.tabs:
            held = f"{held}, tabs in slots"
        opening = ruler.pair(*stand.opening_mm) if stand.opening_mm else "none"
        rows.append(
            (
                stand.marked,
                ground.named(part) if part else stand.word,
                ruler(stand.front_mm - 0.0),
                ruler.pair(stand.width_mm, stand.height_mm),
                opening,
                ruler(math.hypot(stand.width_mm, stand.height_mm)),
                held,
            )
        )
    return Grid(
        caption="Where the plates stand",
        head=(
            "line",
            "plate",
            "front face behind the nose",
            "wide x high",
            "opening",
            "its diagonal",
            "held",
        ),
        rows=tuple(rows),
    )


def _firewall(ground: Ground, motor: Motor, body: Body, plates: Sequence[Part], box: str) -> Step:
    ruler = ground.ruler
    seat = nose_seat(motor, ground.facts.inputs)
    where = "onto the front edges of the sides" if seat is None or seat.on_front else "between the sides"
    inside = seat is not None and not seat.on_front
    at = f", its rear face {ruler(seat.rear_mm)} behind the nose" if seat is not None and inside else ""
    texts = mark_texts(plates)
    turned = [text for text in texts if text.startswith(("motor ", "washers "))]
    does = [
        f"Glue {ground.all_named(plates)} {where} with epoxy, its drawn face forwards, the arrow UP up{at}."
        " Roughen the plate first.",
        f"Cut three-cornered strips of scrap, legs {ruler(_STRIP_MM)}, and glue one along each side behind"
        " the plate,"
        ' where "strip behind, epoxy" is drawn: they carry the pull of the motor.',
        "Mark and drill the screws of the motor before the glue sets, if they are not cut: its middle is on"
        " the crossing"
        " of the lines" + (f", moved as is written there ({listed(turned)})." if turned else "."),
    ]
    return Step(
        id=ground.id("firewall", motor),
        heading=f"Glue the firewall onto {ground.the(body)}",
        does=tuple(does),
        cautions=("Epoxy harms skin and eyes: wear gloves, and sand it with a dust mask.",),
        checks=(
            "Seen from above and from the side the plate stands square to the body; the thrust line is"
            " turned by washers, not by the plate.",
            f"The plate is {ruler.thickness(plates[0].thickness_mm)} thick and cannot be moved by hand.",
        ),
        after=((Tie.GLUED, box),),
        adds=names(plates),
        shows=names(ground.of(body, *SHELL)),
        tools=("epoxy", "sandpaper", "square", "drill"),
    )
