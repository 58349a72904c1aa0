"""What can hurt, in front of everything; the cautions stand again where the work is done.

Sources: trade habit and the codes of clubs, from memory; for tools that cut, see `foamcut.draw.furniture`.
"""

from collections.abc import Iterator

from foamcut.book.chapters_words import motors_count
from foamcut.book.facts import Facts
from foamcut.book.values import Block, Caution, Chapter, Words
from foamcut.draw.furniture import cautions
from foamcut.flight.values import Carried

GLUE = (
    "Hot glue burns skin, and a hot gun melts foam; keep cold water near. Superglue sticks skin at once"
    " and its fumes sting; the ordinary kind and glues with solvent eat polystyrene. Try every glue on scrap,"
    " read its label, air the room, and wear gloves and goggles for resin."
)
DUST = "Sanding foam, plywood and carbon makes fine dust. Wear a dust mask and goggles, and clean up wet."
PROPELLERS = (
    "Propellers cut deep. Take them off for all work on the bench, and fit them last of all. With a"
    " battery connected, treat a motor as if it will start: stay behind the propeller, keep everybody out of"
    " its plane, sleeves and hair away, and have the model held fast. Throw away a propeller that is nicked."
)
BATTERIES = (
    "Lithium packs can burn fiercely. Charge them with a charger for their kind and number of"
    " cells, at the current that their maker states, on something that does not burn, out of the model, and"
    " never alone. Do not use a pack that is swollen, dented or was too deeply drawn. Unplug it after every"
    " flight, keep its plugs from touching metal, and store and discard it as its maker says."
)
FLYING = (
    "A model in the air can hurt people and break things. Follow the rules of your country and of the"
    " field, ask the landowner, see that you are insured, keep people behind you and far off, and have"
    " somebody experienced look the model over and fly it first, or stand beside you."
)
NO_CLEARANCE = (
    "The numbers of this book are estimates from the numbers of the design. Nobody has tested your model for"
    " you: that it is in this book does not mean that it will fly well, or at all."
)


def cautions_chapter(facts: Facts) -> Chapter:
    """Every caution that this design asks for."""
    blocks: list[Block] = [
        Words(text="Read these before you begin. They stand again at the steps where they count."),
        *(Caution(text=text) for text in _texts(facts)),
    ]
    return Chapter(id="cautions", heading="Cautions", blocks=tuple(blocks))


def _texts(facts: Facts) -> Iterator[str]:
    yield " ".join(cautions(facts.title.tool))
    yield GLUE
    yield DUST
    if motors_count(facts):
        yield PROPELLERS
    if facts.setup.of(Carried.BATTERY):
        yield BATTERIES
    if facts.report is not None:
        yield FLYING
        yield NO_CLEARANCE
