"""The products of a pack: each is one function from a `Plan` to files."""

from collections.abc import Callable, Iterator, Sequence
from typing import Literal

from foamcut import __version__
from foamcut.design.built import built_findings
from foamcut.draw.back import back_drawing
from foamcut.draw.balance_pictures import balance_pictures
from foamcut.draw.bed_sheet import bed_drawing
from foamcut.draw.fullsize import full_size_document
from foamcut.draw.gauges import gauges_document
from foamcut.draw.marking import marking_document, marking_rows
from foamcut.draw.overview import overview_document
from foamcut.draw.paper import PAPERS
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Drawing
from foamcut.files import File
from foamcut.nest.values import Layout, Sheet
from foamcut.plan.book_facts import book_facts
from foamcut.plan.outcome import findings_records
from foamcut.plan.pieces import joints_table
from foamcut.plan.shopping import shopping_rows
from foamcut.plan.values import Plan
from foamcut.write import (
    balance_json,
    glb,
    layout_json,
    marking_csv,
    pdf,
    picture_svg,
    table,
)


def _design_file(plan: Plan) -> list[File]:
    return [File(name="design.toml", data=plan.data)]


def _sheet_files(plan: Plan) -> list[File]:
    # loaded in the process that needs it
    from foamcut.write import dxf, svg

    files: list[File] = []
    version: Literal["R2000", "R12"] = "R12" if plan.options.dxf == "r12" else "R2000"
    for layout in plan.layouts:
        for sheet in layout.sheets:
            drawings = _drawings(plan, layout, sheet)
            for stem, drawing in zip(plan.sheet_stems[sheet.stock, sheet.number], drawings, strict=True):
                dxf_name, svg_name = (stem + ending for ending in plan.endings())
                plan.listener(f"writing {dxf_name}")
                title = plan.title
                heading = f"{title.title or title.name}, revision {title.revision}: {drawing.name}"
                data = dxf.render(drawing, version=version, comment_lines=(heading,))
                files.append(File(name=dxf_name, data=data))
                description = "true size, 1 unit = 1 mm"
                data = svg.render(drawing, title=heading, description=description)
                files.append(File(name=svg_name, data=data))
    return files


def _drawings(plan: Plan, layout: Layout, sheet: Sheet) -> Iterator[Drawing]:
    """What a machine reads: the sheet, its back if that is cut, its rectangles for the bed."""
    facts = plan.title, plan.numbers, plan.thicknesses
    yield sheet_drawing(sheet, layout, *facts, machine=True, joints=plan.joints)
    if sheet.worked_behind:
        yield back_drawing(sheet, layout, *facts)
    for bed in sheet.beds:
        yield bed_drawing(sheet, bed, layout, *facts, joints=plan.joints)


def _full_size_file(plan: Plan) -> list[File]:
    document = full_size_document(plan.drawings, plan.title, plan.layouts)
    return [File(name="full-size.pdf", data=pdf.render(document))]


def _template_files(plan: Plan) -> list[File]:
    return [File(name=index.file, data=pdf.render(document)) for document, index in plan.templates]


def _layout_file(plan: Plan) -> list[File]:
    made = layout_json.Made(
        program=__version__,
        seed=plan.options.seed,
        squeezed=bool(plan.options.pace.squeeze_s),
        stopped_early=plan.laid.is_cut_short,
        only=plan.only,
        added=plan.added,
        **plan.design_facts(),
    )
    indexes = [index for _, index in plan.templates]
    data = layout_json.render(
        made, plan.parts, plan.layouts, plan.sheet_files(), indexes, joints_table(plan.joints)
    )
    return [File(name="layout.json", data=data)]


def _shopping_file(plan: Plan) -> list[File]:
    hardware = () if plan.only else plan.design.hardware  # for parts cut again it is there already
    rows = shopping_rows(plan.layouts, hardware, plan.design.plan)
    return [File(name="shopping.csv", data=table.shopping(list(rows)))]


def _model_file(plan: Plan) -> list[File]:
    """The model of an airframe; none for parts that are all drawn by hand."""
    meshes = plan.meshes if plan.airframe else ()
    return [File(name="model.glb", data=glb.render(meshes, version=__version__))] if meshes else []


def _balance_files(plan: Plan) -> list[File]:
    """The balance of an aeroplane and its pictures; none of what is no aeroplane."""
    report, model = plan.balance, plan.model
    if report is None or model is None:
        return []
    found = findings_records(plan.design, (*built_findings(plan.design.built), *report.findings))
    data = balance_json.render(report, plan.design_facts(), found)
    pictures = balance_pictures(report, model, plan.design.setup, plan.title)
    return [
        File(name="balance.json", data=data),
        *(File(name=f"{one.name}.svg", data=picture_svg.render(one)) for one in pictures),
    ]


def _marking_files(plan: Plan) -> list[File]:
    """For ruler and pencil: pages of every sheet, and the same numbers as a table."""
    units = plan.design.plan.units
    document = marking_document(plan.layouts, plan.title, plan.numbers, units, plan.papers()[0])
    return [
        File(name="marking-out.pdf", data=pdf.render(document)),
        File(name="marking-out.csv", data=marking_csv.render(marking_rows(plan.layouts, units))),
    ]


def _overview_file(plan: Plan) -> list[File]:
    revisions = plan.design.revisions
    document = overview_document(
        plan.title,
        plan.design.plan.units,
        plan.meshes,
        plan.model,
        plan.balance,
        plan.parts,
        revisions[-1].date.isoformat() if revisions else "",
    )
    return [File(name="overview.pdf", data=pdf.render(document))] if document else []


def _gauges_file(plan: Plan) -> list[File]:
    """Gauges to print and cut out, on paper that a printer at home takes."""
    used = {part.stock for part in plan.flats} | {slot.takes for part in plan.parts for slot in part.slots}
    document = gauges_document(
        plan.title,
        plan.design.plan.units,
        plan.parts,
        [stock for stock in plan.design.stocks if stock.name in used],
        plan.model.inputs if plan.model else None,
        plan.balance,
        PAPERS["letter" if plan.papers()[0] in ("letter", "tabloid") else "a4"],
    )
    return [File(name="gauges.pdf", data=pdf.render(document))] if document else []


def _book_files(plan: Plan) -> list[File]:
    """The build book, as one page for a browser and as one to print."""
    # loaded in the process that makes it, while another draws the sheets
    from foamcut.book.book import book_of
    from foamcut.write import book_html, book_pdf

    book = book_of(book_facts(plan))
    boards = plan.boards
    return [
        File(name="book.html", data=book_html.render(book, boards=boards)),
        File(name="book.pdf", data=book_pdf.render(book, paper=plan.papers()[0], boards=boards)),
    ]


#: a product: what is said while it is made, and the function
Product = tuple[str, Callable[[Plan], list[File]]]

#: what is needed to cut parts
CUTTING: tuple[Product, ...] = (
    ("keeping the design", _design_file),
    ("drawing the sheets", _sheet_files),
    ("laying out full-size pages", _full_size_file),
    ("tiling the templates", _template_files),
    ("listing what lies where", _layout_file),
    ("listing what to buy", _shopping_file),
)
#: the same for ruler and pencil: it shares no drawing with the above
MARKING: tuple[Product, ...] = (("marking out", _marking_files),)
#: what tells of the model
MODEL: tuple[Product, ...] = (
    ("putting the model together", _model_file),
    ("drawing the balance", _balance_files),
    ("drawing the overview", _overview_file),
    ("drawing the gauges", _gauges_file),
)
#: how it is built: it shares no drawing with any of the above
BUILDING: tuple[Product, ...] = (("writing the build book", _book_files),)


def made(products: Sequence[Product], plan: Plan) -> list[File]:
    """The files of some products, in their order."""
    files: list[File] = []
    for words, product in products:
        plan.listener(words)
        files += product(plan)
    return files
