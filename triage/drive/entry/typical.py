"""Typical values as ranges, for what is rarely at hand at the bay. Ranges give ranges as results, and are said as such.

Source: common-practice for the tension of a rib, iso-9981 for the groove angle, from-memory for all others.
"""

from typing import TypeVar

from triage.record.layout import Belt, Layout, Pulley, Tensioner

M = TypeVar("M", Belt, Pulley, Tensioner)

SAID = "Typical ranges stand in for what was not measured, mostly from memory."
USUAL_RIBS = 6
_RIB_N = 65, 130
_RIB_KG_M = 0.015, 0.02
_RIB_STIFFNESS_KN = 18, 30
_FRICTION = "0.25-0.45"
_LOADS = {
    "alternator": "2-8 N·m",
    "water-pump": "1-3 N·m",
    "steering-pump": "1-6 N·m",
    "compressor": "3-12 N·m",
    "vacuum-pump": "0.5-2 N·m",
}
_OTHER_LOAD = "0.5-8 N·m"
_INERTIAS = {"crank": "0.05-0.15 kg·m²", "compressor": "0.0015-0.004 kg·m²"}
_OTHER_INERTIA = "0.0005-0.002 kg·m²"
_IDLE_INERTIA = "0.0001-0.0004 kg·m²"
_ROTOR, _RIM = "0.002-0.005 kg·m²", "0.0002-0.0006 kg·m²"
_SPRINGS = {"isolator": "15-60 N·m/rad", "decoupler": "10-30 N·m/rad"}
_DRAG = "0.1-1 N·m"


def with_typical(layout: Layout) -> Layout:
    """Fill in ranges where a layout says nothing; what it says stays."""
    ribs = layout.belt.ribs or USUAL_RIBS
    belt = {
        "mass_per_metre": f"{_RIB_KG_M[0] * ribs:.3g}-{_RIB_KG_M[1] * ribs:.3g} kg/m",
        "stiffness": f"{_RIB_STIFFNESS_KN[0] * ribs}-{_RIB_STIFFNESS_KN[1] * ribs} kN",
        "friction": _FRICTION,
    }
    filled = {
        "belt": _filled(layout.belt, belt),
        "tension": layout.tension or f"{_RIB_N[0] * ribs}-{_RIB_N[1] * ribs} N",
        "groove_angle": layout.groove_angle or "40 deg",
        "pulleys": tuple(_pulley(one, layout.tensioner) for one in layout.pulleys),
        "about": f"{layout.about} {SAID}".strip(),
    }
    if layout.tensioner and layout.tensioner.pivot:
        arm = {"arm_inertia": "0.0008-0.002 kg·m²", "stiffness": "15-40 N·m/rad"}
        filled["tensioner"] = _filled(layout.tensioner, arm)
    return layout.model_copy(update=filled)


def _pulley(pulley: Pulley, tensioner: Tensioner | None) -> Pulley:
    part = pulley.part
    if part == "crank":
        return _filled(pulley, {"inertia": _INERTIAS["crank"]})
    if part.startswith(("idler", "tensioner")) or (tensioner and tensioner.pulley == part):
        return _filled(pulley, {"inertia": _IDLE_INERTIA})
    values = {"torque": _LOADS.get(part, _OTHER_LOAD)}
    if part != "alternator":
        return _filled(pulley, {**values, "inertia": _INERTIAS.get(part, _OTHER_INERTIA)})
    values |= {"rotor_inertia": _ROTOR, "rim_inertia": _RIM}
    if pulley.pulley in _SPRINGS:
        values["spring"] = _SPRINGS[pulley.pulley]
    if pulley.pulley == "decoupler":
        values["overrun_drag"] = _DRAG
    return _filled(pulley, values)


def _filled(model: M, values: dict[str, str]) -> M:
    return model.model_copy(update={name: text for name, text in values.items() if getattr(model, name) is None})
