"""Books by hand, with what is hard to print: markup in words, scripts of every kind, long names, long tables."""

from foamcut.airframe.model import Mesh, model_meshes
from foamcut.book.values import Book, Caution, Chapter, Figure, Grid, Listing, Turning, Words
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Line, Text, Title
from tests.airframe.box_body import box_with

LONG = "saltmarsh-survey-station-part-" * 6 + "of-200-letters-in-all"
MARKUP = '<b>&"\'</b><script>document.title = "x"</script> {{ 7 * 7 }} ]]> <!-- &amp;'
ARABIC = "جناح أيمن"
HEBREW = "כנף ימין"
EMOJI = "wing \U0001f6e9\ufe0f \U0001f469\u200d\U0001f52c end"
TURNED = "left \u202egniw\u202c right"
BROKEN = "nul \x00 bell \x07 half \ud83d end"
COMBINED = "\u0301lone mark, and z" + "\u0336\u0337\u0338\u0334\u0335" * 8 + " many"
NASTY = (
    MARKUP,
    ARABIC,
    HEBREW,
    EMOJI,
    TURNED,
    BROKEN,
    COMBINED,
    LONG,
    "漢字の部品",
    "крыло",
    "\u2028line\u2029ends\x85",
    "",
)
PLAIN = Title(
    name="cordgrass-2",
    title="Twin that carries plot marker sticks",
    revision="C",
    maker="Salt-marsh station workshop",
    licence="CC BY-SA 4.0",
    scale_text="1:6",
    tool="knife",
    sketch_unit="mm",
    sketch_scale=6.0,
    version="0.1.0",
)


def title(**changes: str) -> Title:
    return Title(**{field: getattr(PLAIN, field) for field in Title.__dataclass_fields__} | changes)


def picture(
    words: str = "a former", *, told: str = "A box with a line across it.", width: float = 80.0
) -> Picture:
    """Every ink once, open and closed, and words turned and level."""
    shapes = [
        Shape(ink=ink, points=((2.0 + i, 2.0), (10.0 + i, 30.0), (20.0 + i, 6.0)), closed=bool(i % 2))
        for i, ink in enumerate(Ink)
    ]
    texts = (
        Text(line=Line.NOTES, at=(width / 2, 34.0), text=words, height_mm=2.5, align=Align.MIDDLE),
        Text(line=Line.NOTES, at=(width - 4, 6.0), text="25 mm", height_mm=2.5, turn_deg=90.0),
        Text(line=Line.NOTES, at=(width - 6, 2.0), text="right", height_mm=2.5, align=Align.RIGHT),
    )
    return Picture(
        name="p", heading=words, told=told, width_mm=width, height_mm=40.0, shapes=tuple(shapes), texts=texts
    )


def meshes() -> tuple[Mesh, ...]:
    return model_meshes(box_with(), ())


def plain_book() -> Book:
    """One of every block, with words that a builder would read."""
    turning = Turning(meshes=meshes(), still=picture("the model"), caption="The model as it stands.")
    first = Chapter(
        id="what-it-is",
        heading="What it is",
        blocks=(Words(text="A twin that carries sticks over the marsh. " * 8), turning),
    )
    table = Grid(
        caption="What to buy",
        head=("what", "size", "needed"),
        rows=(("foam board, paper-faced", "700 x 500 mm", "2"), ("ply", "300 x 200 mm", "1")),
        figures=(2,),
    )
    parts = Grid(
        caption="Every part",
        head=("part", "count"),
        rows=(("fuselage-side-left", "1"), ("former", "2")),
        figures=(1,),
        pictures=(picture("side"), picture("former")),
    )
    steps = tuple(
        Chapter(
            id=f"step-{i}",
            heading=f"{i} Glue former {i} to the side",
            blocks=(
                Caution(text="Hot glue burns. Keep a bowl of cold water near."),
                Listing(
                    items=("Spread the glue.", "Press for a minute. " * 12, "Wipe off what swells out."),
                    numbered=True,
                ),
                Figure(picture=picture(f"step {i}"), caption=f"Former {i} stands square."),
                Listing(
                    items=("The former is square to the side.", "No glue stands in the slot."), ticked=True
                ),
            ),
        )
        for i in (1, 2, 3)
    )
    return Book(
        title=PLAIN,
        chapters=(
            first,
            Chapter(id="shopping", heading="What to buy and what is cut", blocks=(table, parts)),
            Chapter(id="steps", heading="Building, step by step", within=steps),
            Chapter(id="log", heading="Log", blocks=(Listing(items=("first flight", "second flight")),)),
        ),
    )  # fmt: skip


def nasty_book() -> Book:
    """Every block with every hard text in it, and a table of 300 rows."""
    blocks = [block for words in NASTY for block in (Words(text=words), Caution(text=words))]
    return Book(
        title=title(name=LONG, title=MARKUP, revision=EMOJI, maker=ARABIC, licence=""),
        chapters=(
            Chapter(id="words", heading=MARKUP, blocks=tuple(blocks)),
            Chapter(id="empty", heading="", blocks=(Listing(items=()), Grid(caption="", head=("a",), rows=()))),
            Chapter(
                id="0",
                heading=ARABIC,
                blocks=(
                    Listing(items=NASTY, ticked=True),
                    Listing(items=NASTY, numbered=True, ticked=True),
                    Listing(items=NASTY, numbered=True),
                    Listing(items=NASTY),
                ),
                within=tuple(
                    Chapter(
                        id=f"within-{i}",
                        heading=words,
                        blocks=(Figure(picture=picture(words, told=words, width=400.0), caption=words),),
                    )
                    for i, words in enumerate(NASTY)
                ),
            ),
            Chapter(
                id="tables",
                heading=LONG,
                blocks=(
                    Grid(
                        caption=MARKUP,
                        head=("number", "name", "size", "why"),
                        rows=tuple((str(i), NASTY[i % len(NASTY)], f"{i * 1.5:.1f}", "salt " * (i % 30)) for i in range(300)),
                        figures=(0, 2),
                    ),
                    Grid(caption="one cell", head=("name",), rows=((LONG * 40,),)),
                    Grid(caption="wide", head=tuple("abcdefghijkl"), rows=(tuple(NASTY[i % 12] for i in range(12)),)),
                    Grid(
                        caption="pictures",
                        head=("name",),
                        rows=tuple((words,) for words in NASTY),
                        pictures=tuple(picture(words, told="") for words in NASTY),
                    ),
                    Turning(
                        meshes=tuple(
                            Mesh(name=words, stock=str(i), vertices=one.vertices, triangles=one.triangles)
                            for i, (words, one) in enumerate(zip(NASTY, meshes(), strict=False))
                        ),
                        still=picture("still"),
                        caption=LONG,
                    ),
                    Turning(meshes=(), still=picture("nothing"), caption="No part has a place."),
                ),
            ),
        ),
    )  # fmt: skip


def empty_book() -> Book:
    return Book(title=title(name="", title="", revision=""), chapters=())
