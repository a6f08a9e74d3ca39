"""A drive in time: what tensions, arm, belt and rotor do while the engine idles, slows, or stops."""
