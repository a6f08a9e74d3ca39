"""A shop's figures."""

from triage.record.weights import Weights


def test_a_cause_with_its_own_figures_takes_them() -> None:
    weights = Weights(for_nothing_by_cause={"belt-worn": 60.0}, left_in_by_cause={"belt-worn": 540.0})
    assert weights.pays_from("belt-worn") == 0.1
    assert weights.pays_from("pulley-loose") == Weights().pays_from("pulley-loose")
