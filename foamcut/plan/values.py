"""What the chain passes on and gives: options, a plan with all that its products are made from, outcomes."""

from dataclasses import dataclass, field
from functools import cached_property

from foamcut import __version__
from foamcut.airframe.made import Shell
from foamcut.airframe.model import Mesh, model_meshes
from foamcut.airframe.values import Inputs
from foamcut.compare.archive import archive_bytes
from foamcut.design.design import Design
from foamcut.draw.overview_facts import board_list
from foamcut.draw.paper import PAPERS
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.templates import TemplateIndex, template_document
from foamcut.draw.values import Document, Drawing, Title
from foamcut.files import File
from foamcut.flat.joint import Joint
from foamcut.flat.part import Part
from foamcut.flight.figures import Report
from foamcut.flight.values import Model
from foamcut.nest.values import BY_STEPS, Laid, Layout, Pace
from foamcut.plan.hand import hand_words
from foamcut.plan.names import drawing_stems, stems_of
from foamcut.plan.outcome import Listener, Outcome
from foamcut.plan.pieces import Chosen, joints_of, joints_table, numbers_of
from foamcut.plan.saving import saving_words
from foamcut.plan.set_up import set_up_words
from foamcut.plan.words import boards_words, left_words
from foamcut.units import decimal_text
from foamcut.write import layout_json


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """What a person chooses at the command; whatever changes a cut line stands in the design instead.

    `only`: names of the parts that are laid and drawn, both hands of a pair by the name of the pair; none:
    all of them.  `beside`: a second process may work beside this one; it changes nothing but the time.
    """

    paper: str | None = None
    by: str = "part"
    every_part: bool = False
    dxf: str = "r2000"
    seed: int = 1
    pace: Pace = BY_STEPS
    only: tuple[str, ...] = ()
    beside: bool = False


@dataclass(frozen=True, kw_only=True)
class Plan(Outcome):
    """All that the products of a pack are made from.

    `only`: the names of the parts that it holds on purpose, where these are not all of the design; `added`:
    those among them that are no parts of the design but pieces to be glued to older ones.
    """

    data: bytes
    options: Options
    shells: tuple[Shell, ...] = ()
    chosen: tuple[Chosen, ...]
    laid: Laid
    model: Model | None = None  # of an aeroplane, with its balance
    balance: Report | None = None
    only: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    listener: Listener = field(repr=False, default=lambda _: None)

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """The sheets of every stock."""
        return self.laid.layouts

    @property
    def airframe(self) -> Inputs:
        """What the design's airframe was generated from; false when there is none."""
        return self.design.airframe

    @cached_property
    def title(self) -> Title:
        """What every sheet and page says of the plan."""
        return title_of(self.design)

    @cached_property
    def meshes(self) -> tuple[Mesh, ...]:
        """The surface of every part that has a place."""
        return model_meshes(self.parts, self.shells)

    @property
    def set_up(self) -> tuple[str, ...]:
        """How an aeroplane is set up, a line each; nothing of what is none."""
        if self.balance is None or self.model is None:
            return ()
        return tuple(set_up_words(self.balance, self.model, self.design.plan.units))

    @cached_property
    def summary(self) -> tuple[str, ...]:
        """What page 1 says first: boards to buy, what is saved and left, what is ruled, how it is set up."""
        return (
            *boards_words(self.layouts, self.design.plan),
            *saving_words(self.laid.savings, self.chosen, self.design.plan.currency),
            *left_words(self.layouts, self.design.plan.units),
            *hand_words(self.layouts, self.design.plan.bed_mm, self.chosen),
            *self.set_up,
        )

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Each piece's number, in the order of the design, by the name of its flat part."""
        return numbers_of(self.chosen)

    @cached_property
    def joints(self) -> dict[str, tuple[Joint, ...]]:
        """The joints of every part that has any, by its name."""
        return joints_of(self.chosen)

    @property
    def flats(self) -> tuple[Part, ...]:
        """The pieces of all parts as parts of their own, in the order of the design."""
        return tuple(piece.flat for one in self.chosen for piece in one.way.pieces)

    @cached_property
    def thicknesses(self) -> dict[str, float]:
        """Measured thickness of each stock by its name, mm."""
        return thicknesses_of(self.design)

    @property
    def boards(self) -> str:
        """The boards that parts are cut from and their thickness, in words."""
        stocks = ((one.stock.name, one.stock.thickness_mm) for one in self.layouts)
        return board_list(stocks, self.title.sketch_unit)

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """One drawing a sheet with its true lines, in the order of the sheets."""
        return self._drawings(template=False)

    def _drawings(self, *, template: bool) -> tuple[Drawing, ...]:
        return tuple(
            sheet_drawing(
                sheet,
                layout,
                self.title,
                self.numbers,
                self.thicknesses,
                template=template,
                joints=self.joints,
            )
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
                self.flats,
                self.layouts,
                self.title,
                paper,
                by=self.options.by,
                every_part=self.options.every_part,
                sheet_drawings=on_sheets,
                numbers=self.numbers,
                thicknesses=self.thicknesses,
                summary=self.summary,
                findings=self.findings_lines(""),
                joints=self.joints,
            )
            for paper in self.papers()
        )

    @cached_property
    def sheet_stems(self) -> dict[tuple[str, int], tuple[str, ...]]:
        """The names, without ending, of the drawings of each sheet, by stock and number."""
        stems = stems_of([layout.stock.name for layout in self.layouts])
        return {
            (sheet.stock, sheet.number): drawing_stems(sheet, stems[sheet.stock])
            for layout in self.layouts
            for sheet in layout.sheets
        }

    def endings(self) -> tuple[str, str]:
        """How the two files of a drawing end, DXF first."""
        return ("-mm.dxf" if self.options.dxf == "r12" else ".dxf"), ".svg"

    def sheet_files(self) -> dict[tuple[str, int], tuple[str, ...]]:
        """Names of each sheet's files, by stock and number."""
        return {
            key: tuple(stem + ending for stem in stems for ending in self.endings())
            for key, stems in self.sheet_stems.items()
        }


def title_of(design: Design) -> Title:
    """What every sheet and page says of a design."""
    plan = design.plan
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


def thicknesses_of(design: Design) -> dict[str, float]:
    """Measured thickness of each stock by its name, mm."""
    return {stock.name: stock.thickness_mm for stock in design.stocks}


@dataclass(frozen=True, kw_only=True)
class Pack(Outcome):
    """The files of a pack, manifest included, and what to say of it."""

    files: tuple[File, ...]
    summary: tuple[str, ...]
    layouts: tuple[Layout, ...]
    joints: dict[str, tuple[Joint, ...]]
    pages: dict[str, int]

    def archive(self, folder: str) -> bytes:
        """All files in one ZIP file, in a folder."""
        return archive_bytes({file.name: file.data for file in self.files}, folder)

    def result(self) -> dict[str, object]:
        """What `cut --json` gives besides the folder."""
        return {
            "files": sorted(f.name for f in self.files),
            "bound": [layout_json.bound_record(layout.bound) for layout in self.layouts],
            "pages": self.pages,
            "joints": joints_table(self.joints),
        }
