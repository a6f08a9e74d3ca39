"""The published reference drive as a layout, and its assembly."""

from collections.abc import Callable

import pytest

from triage.documents import build
from triage.documents.reading import read_text
from triage.drive.layout.assembly import Drive, assemble
from triage.record.layout import Layout

# Beikmann, Perkins & Ulsoy, J. Vib. Acoust. 118(3), 1996; data from memory, cross-checked in the reference notes.
# Mass, stiffness, tension and rotor data are published ones, friction, torque and engine are invented.
REFERENCE = """\
belt: {ribs: 6, mass_per_metre: 0.1029 kg/m, stiffness: 170 kN, friction: 0.35}
tension: 300 N
groove_angle: 40 deg
pulleys:
  - {part: crank, at: [552.5 mm, 55.6 mm], diameter: 177.8 mm, diameter_is: pitch, inertia: 0.07248 kg·m²}
  - part: tensioner
    at: [347.7 mm, 57.15 mm]
    diameter: 90.4 mm
    diameter_is: pitch
    side: back
    inertia: 0.000293 kg·m²
  - part: alternator
    at: [0 mm, 0 mm]
    diameter: 53.94 mm
    diameter_is: pitch
    inertia: 0.00293 kg·m²
    pulley: solid
    torque: 3 N·m
tensioner: {pulley: tensioner, pivot: [250.8 mm, 63.5 mm], arm_inertia: 0.001165 kg·m², stiffness: 116.4 N·m/rad}
engine: {cylinders: 4, idle: 750 rpm}
"""


@pytest.fixture
def reference_with() -> Callable[..., Drive]:
    """Assemble the reference drive after replacing some of its text."""

    def assembled(*changes: tuple[str, str]) -> Drive:
        text = REFERENCE
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        return assemble(build(read_text(text, "reference.yaml"), Layout))

    return assembled


@pytest.fixture
def reference(reference_with: Callable[..., Drive]) -> Drive:
    return reference_with()
