"""How a whole drive turns and how tight it is: ratios, rates, as far as its data go."""

from dataclasses import dataclass

from triage.drive.figures.derived import UnknownFigureError, derived, known
from triage.drive.layout.assembly import Drive
from triage.drive.mechanics import speeds
from triage.drive.mechanics.geometry import BeltPath


@dataclass(frozen=True)
class Running:
    """A drive with n pulleys at one speed of its crank, if any is known.

    Each figure raises `UnknownFigureError` where the layout does not say enough for it.

    Source: shigley, common-practice
    """

    drive: Drive
    crank_rev_s: float | None

    @property
    def rev_s(self) -> float:
        """Speed of the crank [rev/s]."""
        if self.crank_rev_s is None:
            raise UnknownFigureError("No speed was asked for and the layout does not give engine.idle.")
        return self.crank_rev_s

    @property
    def route(self) -> BeltPath:
        """The belt's path: n spans [m] and wraps [rad]."""
        return known(self.drive.route, f"the position (at) of {', '.join(self.drive.unplaced)}")

    @property
    def belt_m(self) -> float:
        """Pitch length: what the layout says, else the way round the pulleys [m]."""
        if self.drive.belt_m is not None:
            return self.drive.belt_m
        if self.drive.route is None:
            raise UnknownFigureError("The layout gives neither belt.length nor the positions of all pulleys.")
        return self.drive.route.length_m

    @property
    def ratios(self) -> tuple[float, ...]:
        """Speed of each pulley over the crank's, all positive [1]."""
        crank_m = self.drive.members[0].pitch_m
        return tuple(speeds.turning_rate(1.0, crank_m, member.pitch_m) for member in self.drive.members)

    @property
    def turns_per_s(self) -> tuple[float, ...]:
        """Speed of each pulley [rev/s]."""
        crank_rev_s = self.rev_s
        return tuple(crank_rev_s * ratio for ratio in self.ratios)

    @property
    def belt_m_s(self) -> float:
        """Speed of the belt [m/s]."""
        return speeds.belt_speed(self.rev_s, self.drive.members[0].pitch_m)

    @property
    def lap_hz(self) -> float:
        """How often one spot of the belt comes round [Hz]."""
        return speeds.lap_rate(self.rev_s, self.drive.members[0].pitch_m, self.belt_m)

    @property
    def firing_hz(self) -> float:
        """How often the four-stroke engine fires [Hz]."""
        return speeds.firing_rate(self.rev_s, known(self.drive.cylinders, "engine.cylinders"))

    @property
    def rib_tension_n(self) -> float:
        """Tension at rest of one rib [N]."""
        return known(self.drive.tension_n, "tension") / known(self.drive.ribs, "belt.ribs")


def repeat_rates(drive: Drive, crank_rev_s: float) -> dict[str, float]:
    """List what comes round how often at one speed, to compare a chirp with.

    Args:
        drive: drive with n pulleys.
        crank_rev_s: speed of the crank [rev/s].

    Returns:
        rates by name: every part, and lap and firing where their data are known [Hz].

    Source: common-practice
    """
    running = Running(drive, crank_rev_s)
    rates = dict(zip((member.part for member in drive.members), running.turns_per_s, strict=True))
    for name, rate in (("lap", derived(lambda: running.lap_hz)), ("firing", derived(lambda: running.firing_hz))):
        if rate.value is not None:
            rates[name] = rate.value
    return rates
