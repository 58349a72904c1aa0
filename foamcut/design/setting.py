"""What parts are read against: stocks by name, and [cutting]."""

from collections.abc import Collection, Container, Mapping
from dataclasses import dataclass

from foamcut.design.key_kinds import Table
from foamcut.design.reader import Reader
from foamcut.design.stocks import Cutting, DrawnStock, stock_named
from foamcut.design.structure import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What parts are read against: stocks, all their names in the file, and [cutting].

    The names are None where the table of stocks is itself at fault, so that they cannot be known.
    """

    stocks: Mapping[str, DrawnStock]
    stock_names: Collection[str] | None
    cutting: Cutting
    #: paths of what was refused before, so that nothing is said of what is missing there
    gone: Container[Path]

    def stock(self, table: Table, path: Path, word: str, reader: Reader) -> DrawnStock | None:
        """The stock that is named under a key; None when the key is left out, or refused."""
        name = reader.name(table, path, word)
        return stock_named(name, (*path, word), self.stocks, self.stock_names, reader)
