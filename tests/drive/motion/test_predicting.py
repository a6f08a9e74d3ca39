"""What other pulleys would do, as the checks of a session would read it."""

import math

import pytest

from tests.drive.motion.conftest import RAD_S, layout_of, seven_text
from triage.drive.motion import events, predicting
from triage.drive.motion.events import Wish
from triage.drive.motion.predicting import predictions
from triage.errors import TriageError

SHORT = (
    ("idle", Wish(seconds=0.1), 0.2),
    ("slow-down", Wish(rpm=900 * RAD_S, rate=12000 * RAD_S, seconds=0.1), 0.6),
    ("switch-off", Wish(rpm=300 * RAD_S), 1.0),
)


def test_four_types_and_their_faults_show_what_the_checks_would_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(predicting, "EVENTS", SHORT)
    monkeypatch.setattr(events, "STEADY_S", 0.05)
    shares: list[float] = []
    told = predictions(layout_of(seven_text()), shares.append)
    rows = {(str(row.pulley), row.fault): row for row in told.rows}
    assert told.fitted == "decoupler"
    assert len(rows) == 11
    assert shares == sorted(shares)
    assert math.isclose(shares[-1], 1.0, abs_tol=0.4)
    stops, coasts = "rotor stops with the belt", "rotor coasts"
    assert stops in rows["solid", ""].signs
    assert stops in rows["decoupler", "rusted-solid"].signs
    # A rotor that rocks on its spring after the belt stands does not coast.
    assert stops in rows["isolator", ""].signs
    assert coasts in rows["decoupler", ""].signs
    assert coasts in rows["one-way-clutch", ""].signs
    assert "rotor lags behind its ring" in rows["decoupler", "slipping"].signs
    assert "rotor lags behind its ring" not in rows["decoupler", ""].signs


def test_a_drive_without_an_alternator_has_no_pulley_to_try() -> None:
    bare = seven_text().split("pulleys:", maxsplit=1)
    text = (
        bare[0] + "pulleys:\n  - {part: crank, diameter: 150 mm, at: [0 mm, 0 mm]}\n"
        "  - {part: fan, diameter: 120 mm, at: [300 mm, 0 mm]}\nengine: {cylinders: 4, idle: 750 rpm}\n"
    )
    with pytest.raises(TriageError, match="no alternator"):
        predictions(layout_of(text), lambda _: None)
