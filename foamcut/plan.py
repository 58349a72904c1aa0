"""The chain from a design's bytes to the files of a pack; the one place that calls the rooms in order.

read -> parts -> layouts -> drawings -> files.  Every product is one function from a `Plan` to files;
they stand in `PRODUCTS`.  Nothing here prints or opens a file.
"""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Literal

from foamcut import __version__
from foamcut.design.design import Design, read_design
from foamcut.design.design import Plan as PlanFacts
from foamcut.design.json_schema import SCHEMA_FILE, schema_text
from foamcut.design.letters import MAX_BYTES as LARGEST_FILE
from foamcut.design.starters import starter
from foamcut.draw.fullsize import full_size_document
from foamcut.draw.metrics import missing_letters
from foamcut.draw.paper import PAPERS
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.templates import TemplateIndex, template_document
from foamcut.draw.values import Document, Drawing, Title
from foamcut.errors import Refusal, Refused
from foamcut.files import File, manifest_bytes, stem_of
from foamcut.findings import CLOSING_WORDS, Finding, Level
from foamcut.flat.build import build_part, check_fits
from foamcut.flat.joint import ways
from foamcut.flat.part import Part
from foamcut.nest.rooms import stock_findings
from foamcut.nest.search import STEPS, lay
from foamcut.nest.values import Kind, Layout, Progress, Wanted
from foamcut.nest.verify import faults
from foamcut.units import decimal_text, inch_text
from foamcut.write import dxf, layout_json, pdf, svg, table

__all__ = [
    "LARGEST_FILE",
    "SCHEMA_FILE",
    "Checked",
    "Options",
    "Pack",
    "check",
    "cut",
    "schema_text",
    "starter",
]

#: told, in words, what is being done
Listener = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """What a person chooses at the command; whatever changes a cut line stands in the design instead."""

    paper: str | None = None
    by: str = "part"
    every_part: bool = False
    dxf: str = "r2000"
    seed: int = 1


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """A design that can be built, its parts, and advice."""

    design: Design
    sha256: str
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]

    def design_facts(self) -> dict[str, str]:
        """Name, revision and SHA-256, as every document of a pack has them."""
        return {"name": self.design.plan.name, "revision": self.design.plan.revision, "sha256": self.sha256}

    def findings_table(self) -> list[dict[str, object]]:
        """The findings as records."""
        return [
            {
                "code": f.code,
                "level": f.level.value,
                "where": f.where,
                "line": self.design.line_of(f.where),
                "text": f.text,
                "value": f.value,
                "range": f.range,
                "source": f.source,
                "mend": f.mend,
            }
            for f in self.findings
        ]

    def findings_lines(self, path: str) -> list[str]:
        """The findings in words, one a line, and the closing words; nothing when there are none.

        `path` is what the design file is called on the screen; the pages of a pack leave it out.
        """
        lines = []
        for finding in self.findings:
            line = self.design.line_of(finding.where)
            place = ":".join(filter(None, (path, str(line or "") if path else "")))
            mend = f"; {finding.mend}" if finding.mend else ""
            said = f"{finding.level.value}: {finding.where}: {finding.text}{mend}"
            lines.append(f"{place}: {said}" if place else said)
        return [*lines, CLOSING_WORDS] if lines else []


@dataclass(frozen=True, kw_only=True)
class Checked(Outcome):
    """What `check` found."""

    layouts: tuple[Layout, ...]

    def stops(self, *, strict: bool) -> bool:
        """Whether a finding stops the work."""
        levels = {Level.STOP, Level.WARNING} if strict else {Level.STOP}
        return any(finding.level in levels for finding in self.findings)

    @property
    def verdict(self) -> str:
        """One line: what the design holds and what was found."""
        pieces = sum(len(sheet.placed) for layout in self.layouts for sheet in layout.sheets)
        found = {level: sum(f.level is level for f in self.findings) for level in Level}
        words = ", ".join(f"{n} {level.value}{'s' * (n != 1)}" for level, n in found.items() if n)
        return f"{self.design.plan.name}: {_count(len(self.parts), 'part')}, {_count(pieces, 'piece')}; " + (
            words or "no findings"
        )

    def parts_table(self) -> list[dict[str, object]]:
        """The parts as records."""
        return [
            {
                "name": part.name,
                "stock": part.stock,
                "count": part.count,
                "hand": part.hand.value,
                "face": part.face.value,
                "length_mm": round(part.length_mm, 3),
                "width_mm": round(part.width_mm, 3),
            }
            for part in self.parts
        ]

    def sizes_table(self) -> list[dict[str, object]]:
        """Every length as typed and at full size."""
        rows = self.design.sizes_table
        return [{"key": row.key, "typed": row.typed, "mm": row.mm} for row in rows if row.mm is not None]

    def sizes_text(self) -> str:
        """Every number, lengths at full size too, as a table to tick off against the sketch."""
        rows = [("key", "as typed", "times", "mm", "inches")]
        for row in self.design.sizes_table:
            sizes = ("-", "-") if row.mm is None else (decimal_text(row.mm, 3), inch_text(row.mm))
            rows.append((row.key, row.typed, row.factor, *sizes))
        k, t, f, mm, inch = (max(map(len, column)) for column in zip(*rows, strict=True))
        return "".join(f"{a:<{k}}  {b:<{t}}  {c:<{f}}  {d:>{mm}}  {e:>{inch}}\n" for a, b, c, d, e in rows)


@dataclass(frozen=True, kw_only=True)
class Plan(Outcome):
    """All that the products of a pack are made from."""

    data: bytes
    options: Options
    layouts: tuple[Layout, ...]
    listener: Listener = field(repr=False, default=lambda _: None)

    @cached_property
    def title(self) -> Title:
        """What every sheet and page says of the plan."""
        plan = self.design.plan
        return Title(
            name=plan.name,
            title=plan.title,
            revision=plan.revision,
            maker=plan.maker,
            licence=plan.licence,
            scale_text=f"1:{decimal_text(plan.scale, 3)}",
            tool=plan.tool.value,
            sketch_unit=plan.units,
            sketch_scale=plan.scale,
            version=__version__,
        )

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Each part's number, in the order of the design, by its name."""
        return {part.name: i for i, part in enumerate(self.parts, 1)}

    @cached_property
    def thicknesses(self) -> dict[str, float]:
        """Measured thickness of each stock by its name, mm."""
        return {stock.name: stock.thickness_mm for stock in self.design.stocks}

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """One drawing a sheet, in the order of the sheets."""
        return self._drawings(template=False)

    def _drawings(self, *, template: bool) -> tuple[Drawing, ...]:
        return tuple(
            sheet_drawing(sheet, layout, self.title, self.numbers, self.thicknesses, template=template)
            for layout in self.layouts
            for sheet in layout.sheets
        )

    def papers(self) -> tuple[str, ...]:
        """The papers that templates are made for."""
        if self.options.paper == "all":
            return tuple(PAPERS)
        return (self.options.paper or ("a4" if self.design.plan.units != "in" else "letter"),)

    @cached_property
    def templates(self) -> tuple[tuple[Document, TemplateIndex], ...]:
        """The template pages of each paper, with the index of their tiles."""
        on_sheets = self._drawings(template=True) if self.options.by == "sheet" else self.drawings
        return tuple(
            template_document(
                self.parts,
                self.layouts,
                self.title,
                paper,
                by=self.options.by,
                every_part=self.options.every_part,
                sheet_drawings=on_sheets,
                numbers=self.numbers,
                thicknesses=self.thicknesses,
                summary=tuple(_boards_words(self)),
                findings=self.findings_lines(""),
            )
            for paper in self.papers()
        )

    def sheet_files(self) -> dict[tuple[str, int], tuple[str, ...]]:
        """Names of each sheet's files, by stock and number."""
        ending = "-mm.dxf" if self.options.dxf == "r12" else ".dxf"
        return {
            (sheet.stock, sheet.number): tuple(
                f"sheets/{stem_of(sheet.stock)}-{sheet.number}{end}" for end in (ending, ".svg")
            )
            for layout in self.layouts
            for sheet in layout.sheets
        }


@dataclass(frozen=True, kw_only=True)
class Pack(Outcome):
    """The files of a pack, manifest included, and what to say of it."""

    files: tuple[File, ...]
    summary: tuple[str, ...]
    layouts: tuple[Layout, ...]
    pages: dict[str, int]

    def result(self) -> dict[str, object]:
        """What `cut --json` gives besides the folder."""
        return {
            "files": sorted(f.name for f in self.files),
            "bound": [layout_json.bound_record(layout.bound) for layout in self.layouts],
            "pages": self.pages,
        }


def check(data: bytes, file_name: str, *, listener: Listener = lambda _: None) -> Checked:
    """Look a design over, up to whether its parts find room.

    Raises
    ------
    Refused
        The design cannot be built; all refusals of the first step that has any.
    """
    design = read_design(data, file_name)
    parts, findings = _parts(design)
    layouts = _layouts(design, parts, seed=1, steps=1, listener=listener)
    return Checked(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=parts,
        findings=(*findings, *_stock_findings(design, layouts)),
        layouts=layouts,
    )


def cut(data: bytes, file_name: str, options: Options, *, listener: Listener = lambda _: None) -> Pack:
    """Make every file of the pack.

    Raises
    ------
    Refused
        As `check`.
    RuntimeError
        A layout does not pass the verifier, or a product holds nothing: a bug of ours.
    """
    design = read_design(data, file_name)
    parts, findings = _parts(design)
    layouts = _layouts(design, parts, seed=options.seed, steps=STEPS, listener=listener)
    plan = Plan(
        design=design,
        sha256=hashlib.sha256(data).hexdigest(),
        parts=parts,
        findings=(*findings, *_stock_findings(design, layouts)),
        data=data,
        options=options,
        layouts=layouts,
        listener=listener,
    )
    files: list[File] = []
    for words, product in PRODUCTS:
        listener(words)
        files += product(plan)
    manifest = manifest_bytes(files, program=__version__, design=plan.design_facts())
    return Pack(
        design=design,
        sha256=plan.sha256,
        parts=parts,
        findings=plan.findings,
        files=(*files, File(name="manifest.json", data=manifest)),
        summary=tuple(_summary(plan)),
        layouts=layouts,
        pages=_pages(plan),
    )


def _parts(design: Design) -> tuple[tuple[Part, ...], tuple[Finding, ...]]:
    """Build every part; refusals of all parts at once."""
    parts: list[Part] = []
    findings: list[Finding] = []
    refusals: list[Refusal] = []
    for drawn in design.parts:
        try:
            built, found = build_part(drawn)
        except Refused as err:
            refusals += err.refusals
        else:
            parts += built
            findings += found
    if refusals:
        raise _with_lines(design, refusals, later_steps=True)
    return tuple(parts), (*findings, *check_fits(parts), *_place_findings(parts), *_letter_findings(design))


def _layouts(
    design: Design, parts: Sequence[Part], *, seed: int, steps: int, listener: Listener
) -> tuple[Layout, ...]:
    """Lay the parts of each stock on its sheets, and have the layouts verified."""
    layouts: list[Layout] = []
    refusals: list[Refusal] = []
    wanted: list[Wanted] = []
    for stock in design.stocks:
        of_stock = [Wanted(part=p, ways=ways(p, stock)) for p in parts if p.stock == stock.name]
        if not of_stock:
            continue
        wanted += of_stock
        try:
            told = partial(_tell, listener)
            layouts.append(lay(of_stock, stock, seed=seed, steps=steps, listener=told))
        except Refused as err:
            refusals += err.refusals
    if refusals:
        raise _with_lines(design, refusals)
    if wrong := faults(layouts, wanted):
        raise RuntimeError("the layout does not pass its verifier: " + "; ".join(wrong[:5]))
    return tuple(layouts)


def _tell(listener: Listener, progress: Progress) -> None:
    boards = "" if progress.boards is None else f", best so far {_count(progress.boards, 'board')}"
    listener(f"{progress.stock}: {progress.doing}, {progress.step} of {progress.steps}{boards}")


def _with_lines(design: Design, refusals: Sequence[Refusal], *, later_steps: bool = False) -> Refused:
    return Refused(design.with_lines(refusals), later_steps=later_steps)


def _place_findings(parts: Sequence[Part]) -> Iterator[Finding]:
    """A part without a place is left out of a model; said once when some have one and some have none."""
    without = [part for part in parts if part.place is None]
    if without and len(without) < len(parts):
        names = ", ".join(dict.fromkeys(part.name for part in without))
        yield Finding(
            code="no-place",
            level=Level.NOTE,
            where="parts",
            text=f"no place on the model: {names}",
            mend="with a `place` FRONT and UP arrows are drawn",
        )


def _letter_findings(design: Design) -> Iterator[Finding]:
    plan = design.plan
    for key in ("title", "maker", "licence"):
        words = getattr(plan, key)
        if missing := missing_letters(words):
            yield Finding(
                code="letters-missing",
                level=Level.NOTE,
                where=f"plan.{key}",
                text=f"the pack's font has no {' '.join(missing)}; an empty box stands in their place",
            )


def _stock_findings(design: Design, layouts: Sequence[Layout]) -> Iterator[Finding]:
    used = {layout.stock.name for layout in layouts}
    for stock in design.stocks:
        if stock.name in used:
            yield from stock_findings(stock)
        else:
            yield Finding(
                code="stock-unused", level=Level.NOTE, where=stock.key, text="no part is cut from this stock"
            )
    if design.plan.tool.value == "laser":
        yield Finding(
            code="laser-foam",
            level=Level.WARNING,
            where="cutting.tool",
            text="many workshops forbid laser cutting of foam of any kind: polystyrene burns and gives off "
            "styrene, PVC-faced board gives off hydrogen chloride",
            mend="find out what the board is, ask whoever runs the machine, follow local rules; "
            "a knife is the usual tool",
        )


def _summary(plan: Plan) -> Iterator[str]:
    """The first lines of the screen: boards, pages, what is ruled straight on the board."""
    yield from _boards_words(plan)
    for _, index in plan.templates:
        yield f"print {_count(index.pages, 'page')} of {index.file} (at 100 %, scaling off)"
    ruled = list(dict.fromkeys(r.name for r in plan.templates[0][1].ruled))
    if ruled:
        yield f"ruled straight on the board: {', '.join(ruled)}"


def _boards_words(plan: Plan) -> Iterator[str]:
    for layout in plan.layouts:
        rows = [row for row in _sheet_rows(layout, plan.design.plan) if row.packs]
        shelf = sum(sheet.kind is not Kind.NEW for sheet in layout.sheets)
        from_shelf = f", {_count(shelf, 'sheet')} from the shelf" if shelf else ""
        bought = " + ".join(map(_bought, rows)) or "none"
        yield f"{layout.stock.name}: buy {bought}{from_shelf}; {layout.bound.reason}"


def _bought(row: table.ShoppingRow) -> str:
    spare = f" and {row.spare} spare" if row.spare else ""
    packs = f" ({_count(row.packs, 'pack')} of {row.sold_in})" if row.sold_in > 1 else ""
    return f"{row.to_buy}{spare} of {row.size}{packs}"


def _pages(plan: Plan) -> dict[str, int]:
    pages = {index.file: len(document.pages) for document, index in plan.templates}
    return {"full-size.pdf": len(plan.drawings), **pages}


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' * (number != 1)}"


def _design_file(plan: Plan) -> list[File]:
    return [File(name="design.toml", data=plan.data)]


def _sheet_files(plan: Plan) -> list[File]:
    files: list[File] = []
    version: Literal["R2000", "R12"] = "R12" if plan.options.dxf == "r12" else "R2000"
    sheets = [sheet for layout in plan.layouts for sheet in layout.sheets]
    names = plan.sheet_files()
    for sheet, drawing in zip(sheets, plan.drawings, strict=True):
        dxf_name, svg_name = names[sheet.stock, sheet.number]
        plan.listener(f"writing {dxf_name}")
        heading = f"{plan.title.title or plan.title.name}, revision {plan.title.revision}: {drawing.name}"
        files.append(File(name=dxf_name, data=dxf.render(drawing, version=version, comment_lines=(heading,))))
        description = "true size, 1 unit = 1 mm"
        files.append(File(name=svg_name, data=svg.render(drawing, title=heading, description=description)))
    return files


def _full_size_file(plan: Plan) -> list[File]:
    return [
        File(
            name="full-size.pdf", data=pdf.render(full_size_document(plan.drawings, plan.title, plan.layouts))
        )
    ]


def _template_files(plan: Plan) -> list[File]:
    return [File(name=index.file, data=pdf.render(document)) for document, index in plan.templates]


def _layout_file(plan: Plan) -> list[File]:
    made = layout_json.Made(program=__version__, seed=plan.options.seed, **plan.design_facts())
    indexes = [index for _, index in plan.templates]
    data = layout_json.render(made, plan.parts, plan.layouts, plan.sheet_files(), indexes)
    return [File(name="layout.json", data=data)]


def _shopping_file(plan: Plan) -> list[File]:
    currency = plan.design.plan.currency
    rows: list[table.ShoppingRow] = []
    for layout in plan.layouts:
        rows += _sheet_rows(layout, plan.design.plan)
    rows += [
        table.ShoppingRow(
            kind="hardware",
            name=item.name,
            size=item.size,
            needed=item.count,
            on_hand=item.on_hand,
            to_buy=max(0, item.count - item.on_hand),
            spare=0,
            sold_in=item.sold_in,
            price=item.price,
            currency=currency if item.price is not None else "",
        )
        for item in plan.design.hardware
    ]
    return [File(name="shopping.csv", data=table.shopping(rows))]


def _sheet_rows(layout: Layout, plan: PlanFacts) -> Iterator[table.ShoppingRow]:
    """A row for each size that is used, and for the usual size when spare boards are wanted."""
    stock = layout.stock
    for i, size in enumerate(stock.sheets):
        new = sum(s.source == size.key and s.kind is Kind.NEW for s in layout.sheets)
        shelf = sum(s.source == size.key and s.kind is Kind.ON_HAND for s in layout.sheets)
        spare = stock.spare if i == 0 else 0
        if new or shelf or spare:
            yield table.ShoppingRow(
                kind="sheet",
                name=stock.name,
                size=_size_words(size.width_mm, size.height_mm, plan.units),
                needed=new + shelf,
                on_hand=size.on_hand,
                to_buy=new,
                spare=spare,
                sold_in=size.sold_in,
                price=size.price,
                currency=plan.currency if size.price is not None else "",
            )


def _size_words(width_mm: float, height_mm: float, units: str) -> str:
    """A sheet's size on the ruler of the sketch, in mm where inches would not be exact."""
    inches = inch_text(width_mm), inch_text(height_mm)
    if units == "in" and not any(text.startswith("~") or "." in text for text in inches):
        return f"{inches[0]} x {inches[1]} in"
    return f"{decimal_text(width_mm, 3)} x {decimal_text(height_mm, 3)} mm"


#: every product of a pack but its manifest: what is said while it is made, and the function
PRODUCTS: tuple[tuple[str, Callable[[Plan], list[File]]], ...] = (
    ("keeping the design", _design_file),
    ("drawing the sheets", _sheet_files),
    ("laying out full-size pages", _full_size_file),
    ("tiling the templates", _template_files),
    ("listing what lies where", _layout_file),
    ("listing what to buy", _shopping_file),
)
