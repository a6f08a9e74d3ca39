"""The next check of a planned route, out of what checks are worth."""

import pytest

from triage.reasoning.advice.worth import NextChecks, Offer
from triage.reasoning.route.routing import next_of

PAYS, PAYS_MORE = Offer(("pays",), 9.0, 5.0, 0.2), Offer(("pays-more",), 9.0, 1.0, 0.2)
DEAR = Offer(("dear",), 1.0, 5.0, 0.2)


@pytest.mark.parametrize(
    ("offers", "now", "opening", "following"),
    [
        ((DEAR,), ("dear",), (), None),
        ((DEAR, PAYS), ("dear", "pays"), (), "pays"),
        ((PAYS, PAYS_MORE), ("pays",), ("opens",), "opens"),
        ((PAYS, PAYS_MORE), ("pays",), (), "pays"),
        ((PAYS_MORE,), ("dear",), (), None),
    ],
)
def test_what_pays_comes_next_or_what_opens_it_and_where_nothing_pays_the_route_ends(
    offers: tuple[Offer, ...], now: tuple[str, ...], opening: tuple[str, ...], following: str | None
) -> None:
    assert next_of(NextChecks(offers, (), ()), now, lambda: opening) == following
