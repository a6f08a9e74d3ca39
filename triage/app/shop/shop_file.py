"""The shop file: a shop's own instruments, reviewer, prices, losses and minutes. What it does not say has defaults.

reviewer: "name of the licensed practitioner who reviewed the content"
instruments:
torque-wrench: {relative: "3 %"}
ruler: {absolute: "0.5 mm"}
repair: prices, labour and lives of parts, as in `triage.app.shop.price_list`
losses, minutes: what wrong ends cost and how long checks take, as in `triage.app.shop.weighing`
"""

from pathlib import Path

from pydantic import Field

from triage.app.shop.price_list import PriceList
from triage.app.shop.price_list import faults_of as faults_of_prices
from triage.app.shop.weighing import LossList, MinuteList, weights_of
from triage.app.shop.weighing import faults_of as faults_of_weights
from triage.documents import Model, build, is_there
from triage.documents.reading import read_document
from triage.errors import DocumentFaulty, Fault, QuantityRefused, QuantityUnclear
from triage.knowledge.models import Id, Knowledge, Tool
from triage.record.readings import AccuracyUsed
from triage.record.weights import Weights
from triage.units import parse_quantity

SHOP_FILE = "shop-file"
"""Where the figures of a shop file come from."""


class Instrument(Model):
    """Permissible deviation of one tool as the shop knows it."""

    relative: str | None = None
    absolute: str | None = None


class Shop(Model):
    """What a shop says about itself."""

    reviewer: str = ""
    instruments: dict[Id, Instrument] = Field(default_factory=dict)
    repair: PriceList = PriceList()
    losses: LossList = LossList()
    minutes: MinuteList = MinuteList()

    @property
    def weights(self) -> Weights:
        """What wrong ends cost here and how long checks take."""
        return weights_of(self.losses, self.minutes)


def read_shop(path: Path, knowledge: Knowledge) -> Shop:
    """Read the shop file; where there is none it says nothing.

    Raises:
        DocumentFaulty: the file has faults, or is a link that leads nowhere.
    """
    if not is_there(path):
        return Shop()
    document = read_document(path)
    shop = build(document, Shop)
    faults = [
        *faults_of_prices(shop.repair, document, knowledge),
        *faults_of_weights(shop.losses, shop.minutes, document, knowledge),
    ]
    for tool_id, instrument in shop.instruments.items():
        place = document.place(("instruments", tool_id))
        tool = knowledge.tools.get(tool_id)
        if tool is None or tool.measures is None:
            measuring = ", ".join(tool.id for tool in knowledge.tools.values() if tool.measures)
            faults.append(Fault(place, f'"{tool_id}" is no measuring tool.', f"Known: {measuring}."))
            continue
        try:
            _accuracy(tool.measures, instrument.relative, instrument.absolute, SHOP_FILE)
        except (QuantityRefused, QuantityUnclear) as error:
            faults.append(Fault(place, error.message, error.hint))
    if faults:
        raise DocumentFaulty(tuple(faults))
    return shop


def accuracies(knowledge: Knowledge, shop: Shop) -> dict[str, AccuracyUsed]:
    """The permissible deviation of every measuring tool, the shop's own before the default."""
    return {tool.id: _of(tool, shop) for tool in knowledge.tools.values() if tool.measures}


def _of(tool: Tool, shop: Shop) -> AccuracyUsed:
    own = shop.instruments.get(tool.id)
    kind = tool.measures or ""
    if own:
        return _accuracy(kind, own.relative, own.absolute, SHOP_FILE)
    relative = tool.relative.text if tool.relative else None
    absolute = tool.absolute.text if tool.absolute else None
    figure = tool.relative or tool.absolute
    return _accuracy(kind, relative, absolute, figure.source if figure else "")


def _accuracy(kind: str, relative: str | None, absolute: str | None, source: str) -> AccuracyUsed:
    share = parse_quantity((relative or "0").replace("%", " ").strip(), "number").value / 100
    width = parse_quantity(absolute, kind).value if absolute else 0.0
    return AccuracyUsed(relative=share, absolute=width, source=source)
