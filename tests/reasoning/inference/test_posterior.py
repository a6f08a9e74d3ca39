"""Exact posteriors: published values, full enumeration, and an independent library."""

import itertools
import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from triage.reasoning.inference.elimination import eliminate
from triage.reasoning.inference.evidence import Alternative
from triage.reasoning.inference.evidence_rows import side_by_side
from triage.reasoning.inference.making import believed
from triage.reasoning.inference.network import Network
from triage.reasoning.inference.posterior import joint

Signs = dict[str, tuple[float, ...]]


def network(rates: Sequence[float], **signs: Sequence[Sequence[float]]) -> Network:
    """Causes c0, c1 ... and for each sign a row for each cause and, last, the leak: chances of its levels."""
    chances = {sign: np.array(rows).T for sign, rows in signs.items()}
    return Network(tuple(f"c{at}" for at in range(len(rates))), np.array([*rates, 1.0]), chances)


def levels(present: str, rows: Sequence[Sequence[float]]) -> list[float]:
    """Probability of each level with exactly these causes present, such as "101"."""
    fixed = network([float(one) for one in present], sign=rows)
    count = len(rows[0])
    return [
        believed(fixed, "", (Alternative(1.0, {"sign": tuple(float(at == level) for at in range(count))}),)).chance
        for level in range(count)
    ]


def enumerated(net: Network, signs: Signs) -> tuple[float, list[float]]:
    """The same by adding up every combination of causes."""
    total, present = 0.0, [0.0] * len(net.causes)
    for flags in itertools.product((False, True), repeat=len(net.causes)):
        weight = math.prod(
            rate if flag else 1 - rate for flag, rate in zip(flags, net.base_rates.tolist()[:-1], strict=True)
        )
        for sign, likelihood in signs.items():
            columns = [
                column for column, flag in zip(net.chances[sign].T.tolist(), (*flags, True), strict=True) if flag
            ]
            below = [math.prod(sum(column[: at + 1]) for column in columns) for at in range(len(likelihood))]
            exactly = [high - low for low, high in itertools.pairwise([0.0, *below])]
            weight *= sum(share * chance for share, chance in zip(likelihood, exactly, strict=True))
        total += weight
        present = [sum_ + weight * flag for sum_, flag in zip(present, flags, strict=True)]
    return total, present


NOISY_MAX = [(0.5, 0.5, 0.0), (0.1, 0.8, 0.1), (1.0, 0.0, 0.0), (1.0, 0.0, 0.0)]


@pytest.mark.parametrize(
    ("present", "expected"),
    # Published noisy-MAX example, seen: contributions (.5,.5,0), (.1,.8,.1), (1,0,0), no leak.
    [("011", [0.1, 0.8, 0.1]), ("110", [0.05, 0.85, 0.1])],
)
def test_noisy_max_agrees_with_the_published_example(present: str, expected: list[float]) -> None:
    assert levels(present, NOISY_MAX) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("present", "fever"),
    # Russell & Norvig, fever, seen: inhibitors cold .6, flu .2, malaria .1.
    [("100", 0.4), ("010", 0.8), ("001", 0.9), ("110", 0.88), ("101", 0.94), ("011", 0.98), ("111", 0.988)],
)
def test_noisy_or_agrees_with_the_published_fever(present: str, fever: float) -> None:
    rows = [(0.6, 0.4), (0.2, 0.8), (0.1, 0.9), (1.0, 0.0)]
    assert levels(present, rows)[1] == pytest.approx(fever, abs=1e-12)


@pytest.mark.parametrize(("present", "expected"), [("10", 0.28), ("01", 0.46), ("11", 0.568)])
def test_the_leak_is_a_cause_that_is_always_there(present: str, expected: float) -> None:
    # Leak convention, seen: leak .1, causes .2 and .4 alone.
    rows = [(0.8, 0.2), (0.6, 0.4), (0.9, 0.1)]
    assert levels(present, rows)[1] == pytest.approx(expected, abs=1e-12)


@st.composite
def cases(draw: st.DrawFn) -> tuple[Network, Signs]:
    """A small network with likelihoods over its signs."""
    causes = draw(st.integers(1, 6))
    share = st.sampled_from((0.0, 0.01, 0.05, 0.2, 0.5, 0.8, 0.95))
    rates = draw(st.lists(st.sampled_from((0.005, 0.015, 0.04, 0.1, 0.4)), min_size=causes, max_size=causes))
    rows: dict[str, list[list[float]]] = {}
    signs: Signs = {}
    for at in range(draw(st.integers(0, 7))):
        count = draw(st.integers(2, 4))
        columns = []
        for place in range(causes + 1):
            abnormal = draw(st.lists(share, min_size=count - 1, max_size=count - 1))
            if place == causes:
                abnormal = [max(one, 0.01) for one in abnormal]
            scale = max(1.0, sum(abnormal))
            abnormal = [one / scale * 0.99 for one in abnormal]
            columns.append([1 - sum(abnormal), *abnormal])
        rows[f"s{at}"] = columns
        shown = st.sampled_from((0.0, 0.0, 1.0, 0.3, 0.04))
        signs[f"s{at}"] = tuple(draw(st.lists(shown, min_size=count, max_size=count).filter(any)))
    return network(rates, **rows), signs


@settings(max_examples=150, deadline=None)
@given(cases())
def test_both_methods_agree_with_full_enumeration(case: tuple[Network, Signs]) -> None:
    net, signs = case
    total, present = enumerated(net, signs)
    for method in (joint, eliminate):
        (found,), (shares,) = method(net, side_by_side(net, signs))
        assert found == pytest.approx(total, rel=1e-8)
        assert (shares / found).tolist() == pytest.approx([one / total for one in present], abs=1e-9)


@settings(max_examples=50, deadline=None)
@given(cases(), st.floats(0.05, 0.95))
def test_alternatives_are_weighed(case: tuple[Network, Signs], weight: float) -> None:
    net, signs = case
    (one, ones), (other, others) = enumerated(net, signs), enumerated(net, {})
    found = believed(net, "", (Alternative(weight, signs), Alternative(1 - weight, {})))
    total = weight * one + (1 - weight) * other
    expected = [(weight * a + (1 - weight) * b) / total for a, b in zip(ones, others, strict=True)]
    assert list(found.present.values()) == pytest.approx(expected, abs=1e-9)


def test_without_evidence_every_cause_keeps_its_base_rate() -> None:
    net = network([0.1, 0.04], sign=[(0.2, 0.8), (0.5, 0.5), (0.99, 0.01)])
    assert believed(net, "", (Alternative(1.0, {}),)).present == pytest.approx({"c0": 0.1, "c1": 0.04})


def test_evidence_that_contradicts_itself_leaves_no_cause() -> None:
    net = network([0.1], sign=[(0.2, 0.8), (0.99, 0.01)])
    assert believed(net, "", ()).present == {}


def test_many_faint_signs_at_once_lose_no_digits() -> None:
    # Twelve signs that only the leak and one weak cause produce: signed sums would lose every digit.
    faint = [(0.99, 0.01), (0.9999, 0.0001)]
    net = network([0.005], **{f"s{at}": faint for at in range(12)})
    signs = {f"s{at}": (0.0, 1.0) for at in range(12)}
    both, leak = (0.01 + 0.0001 - 0.01 * 0.0001) ** 12 * 0.005, 0.0001**12 * 0.995
    for method in (joint, eliminate):
        (total,), (present,) = method(net, side_by_side(net, signs))
        assert total == pytest.approx(both + leak, rel=1e-9)
        assert present[0] == pytest.approx(both, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(cases(), st.data())
def test_pieces_side_by_side_are_worth_what_each_is_worth_alone(
    case: tuple[Network, Signs], data: st.DataObject
) -> None:
    net, signs = case
    likelihoods = {
        sign: st.sampled_from([(1.0,) * at + (0.0,) * (len(told) - at) for at in range(1, len(told))] + [told])
        for sign, told in signs.items()
    }
    common = data.draw(st.sets(st.sampled_from(sorted(signs)))) if signs else set()
    pieces = [
        {sign: data.draw(told) for sign, told in likelihoods.items() if data.draw(st.booleans())} for _ in range(3)
    ]
    rows = side_by_side(net, {sign: signs[sign] for sign in common}, pieces)
    for method in (joint, eliminate):
        totals, present = method(net, rows)
        for piece, total, shares in zip(pieces, totals, present, strict=True):
            said = {sign: signs[sign] for sign in common} | piece
            both = {
                sign: tuple(a * b for a, b in zip(said[sign], signs[sign], strict=True))
                for sign in common & piece.keys()
            }
            expected, each = enumerated(net, {**said, **both})
            assert total == pytest.approx(expected, rel=1e-8)
            assert shares.tolist() == pytest.approx(each, abs=1e-9)
