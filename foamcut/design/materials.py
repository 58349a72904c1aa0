"""Stocks as generators need them."""

from collections.abc import Container
from dataclasses import dataclass

from foamcut.airframe.values import Material
from foamcut.design.key_kinds import Table
from foamcut.design.reader import Reader
from foamcut.design.setting import Setting
from foamcut.design.stocks import NO_STOCK, DrawnStock
from foamcut.design.structure import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """The stocks that generated parts are cut from, by the keys that name them."""

    setting: Setting
    reader: Reader

    @property
    def gone(self) -> Container[Path]:
        """Paths of what was refused before."""
        return self.setting.gone

    def named(self, table: Table, path: Path, word: str) -> Material:
        """The stock under a key; one of no board where it is left out or refused."""
        stock = self.setting.stock(table, path, word, self.reader) or NO_STOCK
        return self.of(stock)

    def of(self, stock: DrawnStock) -> Material:
        """A stock with its usable boards, the largest first; of like ones the first."""
        margin = 2 * stock.margin_mm
        boards = [
            (sheet.width_mm - margin, sheet.height_mm - margin)
            for sheet in stock.sheets
            if sheet.width_mm - margin > 0 and sheet.height_mm - margin > 0  # not what was refused
        ]
        cutting = self.setting.cutting
        return Material(
            name=stock.name,
            thickness_mm=stock.thickness_mm,
            boards_mm=tuple(sorted(boards, key=lambda board: -round(board[0] * board[1] * 1e6))),
            fit_mm=cutting.fit_mm,
            kerf_mm=cutting.kerf_mm,
        )
