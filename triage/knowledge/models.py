"""What the trade knows, as frozen models: sources, tools, causes, signs, checks, interlocks, remedies and trees.

The models check the shape of one thing at a time. What holds between things (an id that exists, a path that ends) is
the business of `triage.knowledge.lint`. Figures stay as people write them, with their source; the session turns them
into quantities.
"""

from typing import Annotated, Literal, get_args

from pydantic import Field, StringConstraints

from triage.documents import Model
from triage.knowledge.vehicle import Fact

Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=60)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=700)]
PulleyType = Literal["solid", "isolator", "one-way-clutch", "decoupler"]
Pulley = PulleyType | Literal["unknown"]
Strength = Literal["nearly-always", "usually", "often", "sometimes", "seldom"]
Commonness = Literal["common", "occasional", "uncommon", "rare"]
Odds = Literal["much-likelier", "likelier", "less-likely", "much-less-likely", "cannot-be"]
Group = Literal[
    "cannot-roll",
    "support",
    "air-and-fire",
    "people",
    "still",
    "key",
    "starts-itself",
    "isolated",
    "reconnected",
    "belt-on",
    "bay-clear",
    "everyone-out",
    "at-the-key",
    "without-belt",
    "alone",
    "leaving",
    "same-as-before",
]
"""Confirmations that belong together; what ends each stands in `triage.knowledge.groups`."""
Ending = Literal[
    "driven",
    "lifted",
    "brake-touched",
    "another-bay",
    "joined",
    "engine-ran",
    "turned",
    "ignition-on",
    "fan-started",
    "key-left",
    "key-found",
    "lead-on",
    "lead-off",
    "belt-moved",
    "hands-in",
    "stepped-in",
    "stop",
    "left-seat",
    "long-hands-in",
    "long-silent",
]
"""What can happen to a vehicle or around it that ends confirmations."""
Proof = Literal["", "name", "word", "dead"]
"""What is typed with a confirmation: a name, the word that was called back, or the two readings that prove dead."""
FromLayout = Literal["longest-span", "belt-mass", "ribs", "crank-diameter", "driven-diameter"]
PULLEY_TYPES: tuple[PulleyType, ...] = get_args(PulleyType)
PULLEYS: tuple[Pulley, ...] = (*PULLEY_TYPES, "unknown")


class Source(Model):
    """Where figures come from; `kind` says how much weight that has."""

    id: Id
    kind: Literal[
        "standard", "handbook", "paper", "dataset", "regulation", "common-practice", "from-memory", "invented"
    ]
    title: Text
    seen: bool = False
    """Whether the figures were read in the source itself or in a text that reproduces it."""


class Figure(Model):
    """A number as people write it, with its source."""

    text: Text
    source: Id


class Tool(Model):
    """Something a check needs; one that measures carries the permissible deviation of its reading."""

    id: Id
    name: Text
    measures: Id | None = None
    relative: Figure | None = None
    """Half-width of the permissible deviation in percent of the reading."""
    absolute: Figure | None = None
    """Half-width of the permissible deviation as a quantity."""
    reads_from: Figure | None = None
    """The least that it reads; none where it reads from nothing on."""
    reads_to: Figure | None = None
    """The most that it reads."""
    hands_in: bool | None = None
    """Whether hands go into the bay to put it on or use it; said of every tool of a check with the engine running."""


class Cause(Model):
    """One fault that a part can have."""

    id: Id
    name: Text
    part: Text
    meaning: Text
    commonness: Commonness
    remedy: Id
    only_for: tuple[Pulley, ...] = ()
    """Specified pulley types on which this fault can exist; empty for every vehicle."""


class Circumstance(Model):
    """What makes causes likelier, or less likely, than their base rate where it holds of a vehicle; one condition."""

    id: Id
    words: Text
    pulley: tuple[Pulley, ...] = ()
    """Holds on vehicles with one of these specified pulley types."""
    answered: dict[Id, Id] = Field(default_factory=dict)
    """Holds where a check had this outcome."""
    without: Id | None = None
    """Holds where it is known what the belt drives, by a layout or told, and there is no such part."""
    told: dict[Fact, tuple[str, ...]] = Field(default_factory=dict)
    """Holds where a fact of the vehicle was told to be one of these."""
    life: Figure | None = None
    """Holds where the distance driven is known: what a part is expected to last."""
    part: Id | None = None
    """The part of a remedy that lasts so long: where it was renewed before, its distance counts from there."""
    wears: tuple[Id, ...] = ()
    """The causes whose odds follow from the share of that life that was driven."""
    odds: dict[Id, Odds] = Field(default_factory=dict)
    """For each other cause how much likelier it is."""
    source: Id


class Sign(Model):
    """Something that causes can produce: absent or present, or in ordered levels with the normal one first."""

    id: Id
    name: Text
    levels: tuple[Id, ...] = ("absent", "present")
    leak: dict[Id, Strength | Literal["rarely", "hardly-ever"]] = Field(default_factory=dict)
    """How often each abnormal level shows with none of the listed causes; a level left out shows rarely."""
    produced_by: dict[Id, dict[Id, Strength]] = Field(default_factory=dict)
    """For each cause the strength with which it alone produces each abnormal level."""
    only_for: dict[Id, tuple[Pulley, ...]] = Field(default_factory=dict)
    """For a cause the specified pulley types on which its strengths hold; on others it does not produce the sign."""

    def strengths(self, cause: str, pulley: str) -> dict[Id, Strength]:
        """The strengths of a cause on vehicles with this specified pulley; none where it does not produce the sign."""
        holds = cause not in self.only_for or pulley in self.only_for[cause]
        return self.produced_by.get(cause, {}) if holds else {}


AsProof = Literal["proves", "disproves", "nothing"]
"""What an outcome says where the check is made after the repair."""


class Outcome(Model):
    """One possible answer to a check."""

    id: Id
    formerly: tuple[Id, ...] = ()
    """Ids that it had before: recorded cases may name it by them."""
    words: Text
    sign: Id | None = None
    """The sign that this outcome shows; none for the normal outcome and for answers that say nothing."""
    says_nothing: bool = False
    closes_running: Text | None = None
    """Why the engine must not run until this is put right."""
    as_proof: AsProof | dict[Pulley, AsProof] | None = None
    """What it says after the repair, where that differs for each specified pulley type; see `Check.proof`."""
    waits: bool = False
    """Whether it names a condition that has to be waited for: cold, wet, a drive."""
    first: tuple[Id, ...] = ()
    """Checks that come first among the lines of a round at the standing drive, once this was answered."""
    complaint: Literal["there", "absent"] | None = None
    """Whether it says that the complaint was met, or that it is not there."""
    belt_off: bool = False
    """Whether it says that the belt has come off the vehicle by itself: nobody destroys it by taking it off."""
    fuel: bool = False
    """Whether it is fuel: until it is put right nothing is started, tried or disconnected either."""


class Part(Model):
    """One quantity to type for a reading."""

    id: Id
    kind: Id
    ask: Text
    instrument: Id | None = None
    """What it is measured with, where that is not the instrument of the reading."""
    as_typed: bool = False
    """Whether it comes from a count or a sheet: no instrument adds to the spread that is typed."""
    from_layout: FromLayout | None = None
    """What the layout in use offers for it."""
    least: Figure | None = None
    """Below this it is asked back: a vehicle of this kind hardly has it."""
    most: Figure | None = None
    """The same above it."""
    stop: Figure | None = None
    """Where the steps of the check say to stop."""


class Way(Model):
    """One way to the quantity of a reading: what is typed, and how it is worked out of that."""

    id: Annotated[str, StringConstraints(max_length=60)]
    parts: tuple[Part, ...]
    formula: Id | None = None
    instrument: Id


class Zone(Model):
    """One stretch of a reading, up to a limit; the last zone has none."""

    outcome: Id
    below: Figure | None = None
    figure: Id | None = None
    """Name under which the vehicle maker's own limit can be entered."""


class Refused(Model):
    """Why a reading below zero cannot be right, and what to do instead."""

    why: Text
    instead: Text
    allowed: Figure | None = None
    """How far below zero it may lie all the same; none where it may not at all."""


class Reading(Model):
    """A measured quantity whose zones are outcomes."""

    kind: Id
    parts: tuple[Part, ...]
    formula: Id | None = None
    """How several parts make one quantity; none where the one part is the quantity."""
    instrument: Id
    zones: tuple[Zone, ...]
    words: dict[str, Id] = Field(default_factory=dict)
    """Answers in words that stand for an outcome, such as "will not turn"."""
    timed: bool = False
    """Whether a stopwatch serves."""
    most: Figure | None = None
    """Above this what comes out of the formula is asked back."""
    other_ways: tuple[Way, ...] = ()
    """Other ways to the same quantity and zones; what is typed first, with its unit, chooses among them."""
    of_12_v: bool = False
    """Whether its limits hold for systems of 12 V: one of 24 V has twice the cells, and twice the limits."""
    below_zero: Literal["either-side"] | Refused | None = None
    """Below zero: judged without its sign, refused, or none where it falls into the lowest zone."""

    @property
    def ways(self) -> tuple[Way, ...]:
        """Every way to its quantity, its own first."""
        own = Way(id="", parts=self.parts, formula=self.formula, instrument=self.instrument)
        return (own, *self.other_ways)


class SetUp(Model):
    """What is done by hand at the stopped drive before a check with the engine running."""

    state: Id
    """The vehicle state in which it is done."""
    steps: tuple[Text, ...]
    hazards: tuple[Text, ...] = ()


class Check(Model):
    """One thing a technician does to learn something."""

    id: Id
    name: Text
    way: Literal["ask", "look", "feel", "listen", "measure"]
    question: Text
    steps: tuple[Text, ...] = ()
    why: Text
    hazards: tuple[Text, ...] = ()
    tools: tuple[Id, ...] = ()
    minutes: float
    people: int = 1
    state: Id
    """The vehicle state it needs; the session sees to the interlock."""
    set_up: SetUp | None = None
    """What must be fitted, wetted, marked or taken off first; the session leads through it."""
    does: tuple[Ending, ...] = ()
    """What making it does to the vehicle that ends confirmations, beyond its vehicle state."""
    untouched: bool = False
    """Whether it is a look by torch from outside, nothing touched: the start is not tried before it."""
    takes_voltage: bool = False
    """Whether the battery has to be connected for it; every other check with hands in may be made isolated."""
    from_seat: bool = False
    """Whether somebody who is alone can make it from the driver's seat, the engine idling."""
    at_idle: bool = False
    """Whether it is made at plain idle: every other running check waits until the belt was seen to run true."""
    consumes: tuple[Text, ...] = ()
    """What is used up by doing it and must be in hand first."""
    needs_complaint: bool = False
    """Whether it tests a complaint that has to be there meanwhile: without it the check says nothing."""
    once: bool = False
    """Whether it is about a part that is taken away, so that it is not made again after the repair."""
    only_for: tuple[Pulley, ...] = ()
    needs: dict[Fact, tuple[str, ...]] = Field(default_factory=dict)
    """Facts of the vehicle, each with the words under which the check makes sense; it is asked before the check."""
    outcomes: tuple[Outcome, ...]
    normal_for: dict[Pulley, Id] = Field(default_factory=dict)
    """The normal outcome on vehicles with this specified pulley, where it is not the first."""
    sign: Id | None = None
    """A levelled sign whose levels are the outcomes."""
    several: bool = False
    reading: Reading | None = None
    sources: tuple[Id, ...] = ()

    def outcome(self, outcome_id: str) -> Outcome | None:
        """The outcome with this id, or None."""
        return next((outcome for outcome in self.outcomes if outcome.id == outcome_id), None)

    def today(self, outcome_id: str) -> str:
        """The id that an outcome has today, by one that it had before."""
        return next((outcome.id for outcome in self.outcomes if outcome_id in outcome.formerly), outcome_id)

    def normal(self, pulley: str) -> str:
        """The outcome to expect on a sound vehicle with this specified pulley."""
        return next((outcome for kind, outcome in self.normal_for.items() if kind == pulley), self.outcomes[0].id)

    @property
    def proves(self) -> bool:
        """Whether it is made to prove a repair: each outcome says what it proves."""
        return all(one.says_nothing or one.as_proof is not None for one in self.outcomes)

    def proof(self, outcome_id: str, pulley: str) -> AsProof:
        """What an outcome says after the repair; where none is written, normal proves and abnormal disproves."""
        outcome = self.outcome(outcome_id)
        said = outcome.as_proof if outcome else "nothing"
        if isinstance(said, dict):
            return next((says for kind, says in said.items() if kind == pulley), "nothing")
        if said is not None:
            return said
        if outcome is None or outcome.says_nothing:
            return "nothing"
        return "proves" if outcome_id == self.normal(pulley) else "disproves"


class Round(Model):
    """Checks that one person makes in one go in one vehicle state, in the order of doing."""

    id: Id
    name: Text
    state: Id
    checks: tuple[Id, ...]
    minutes: Figure
    """Of one go through all of them."""


class Confirmation(Model):
    """One line that a person confirms by itself: one place, and at most three things."""

    id: Id
    group: Group | None = None
    """What it belongs to; none in interlocks from before there were groups."""
    ask: Text
    why: Text
    hazard: Id
    things: dict[Id, Id] = Field(default_factory=dict)
    """What a yes says, thing by thing, each with the hazard that it keeps away; none where it is one thing."""
    ended_by: tuple[Ending, ...] = ()
    """What ends it besides what ends its group."""
    instead_of: tuple[Id, ...] = ()
    """The lines that this one says again in their stead, where they are all lacking."""
    proof: Proof = ""
    names: bool = False
    """Of older interlocks: whether the answer is a name."""
    once: bool = False
    """Of older interlocks: whether it is asked once, until the vehicle is left."""
    carries: bool = False
    """Of older interlocks: whether it goes along from one stopped state into the next."""
    after: dict[Literal["engine", "belt", "battery"], Id] = Field(default_factory=dict)
    """The vehicle arrives with this in order: it is asked only once something has ended that."""
    arrives_so: bool = False
    """The same, where neither engine, belt nor battery tells."""
    sources: tuple[Id, ...] = ()

    @property
    def hazards(self) -> frozenset[str]:
        """Every hazard that it keeps away."""
        return frozenset((self.hazard, *self.things.values()))


class VehicleState(Model):
    """Engine, belt and battery, how near a person may be, and the interlock that lets the session in."""

    id: Id
    words: Text
    engine: Literal["stopped", "running"]
    belt: Literal["fitted", "removed"]
    battery: Literal["connected", "isolated"]
    near: Literal["hands-in", "outside-bay"]
    confirmations: tuple[Id, ...]
    asks: tuple[Fact, ...] = ()
    """Facts of the vehicle that are asked before it is entered the first time."""
    shown: dict[Id, Text] = Field(default_factory=dict)
    """By hazard, how one behaves there: shown while it applies, never asked."""
    lives: Figure | None = None
    """Of older interlocks: how long a confirmation held."""
    longest: Figure | None = None
    """How long the engine may run at a time before it is switched off."""
    run_limit: Figure | None = None
    """Longest single run that is started and timed by itself."""
    runs: int | None = None
    """How many runs a session may have."""
    cold_after: Figure | None = None
    """How long the engine must have been stopped before such a run."""


class Hazard(Model):
    """What can hurt someone, for the hazard log."""

    id: Id
    harm: Text


class PartWork(Model):
    """One part of a remedy and what is to be done with it."""

    id: Id
    name: Text
    todo: Literal["renew", "inspect", "repair"]
    why: Text


class Torque(Model):
    """One fastener to tighten; `typical` is never an instruction."""

    id: Id
    what: Text
    typical: Figure | None = None
    tool: Id


class Access(Model):
    """Labour that several remedies share: something that is opened or taken off for them, and put back."""

    id: Id
    name: Text
    hours: Figure


class FirstLook(Model):
    """The check that shows whether it is this part, before anything is renewed, and what has to be open for it."""

    check: Id
    access: tuple[Id, ...] = ()


class Which(Model):
    """Which of several places a remedy is about, where a vehicle has more than one."""

    ask: Text
    places: tuple[Text, ...]


class Remedy(Model):
    """What to do about a cause."""

    id: Id
    name: Text
    state: Id
    parts: tuple[PartWork, ...]
    steps: tuple[Text, ...]
    torques: tuple[Torque, ...] = ()
    cautions: tuple[Text, ...] = ()
    if_left: Text
    repeat: tuple[Id, ...]
    """Checks to make again afterwards, besides those that were not normal."""
    does: tuple[Ending, ...] = ()
    """What the work does to the vehicle that ends confirmations, beyond its vehicle state."""
    which: Which | None = None
    """What is asked before the work, so that the record says where it was done."""
    threaded_pulley: bool = False
    """Whether the pulley is unscrewed, so that the loosening directions are shown."""
    access: tuple[Id, ...] = ()
    """What has to be open for it; remedies of one visit share that labour."""
    hours: Figure | None = None
    """Labour beyond the access; none where it cannot be said beforehand, and then it is never weighed."""
    look: FirstLook | None = None
    also_cures: tuple[Id, ...] = ()
    """Causes that it puts right besides those whose remedy it is."""
    brings: tuple[Id, ...] = ()
    """Parts that come new with those that it renews."""
    sources: tuple[Id, ...] = ()


class Node(Model):
    """One place in a tree: a check, a turn by the vehicle's pulley type, a conclusion, or an end without a cause."""

    check: Id | None = None
    round: Id | None = None
    """The round of which its check is offered as a part."""
    by_pulley: dict[Pulley, Id] = Field(default_factory=dict)
    next: dict[Id, Id] = Field(default_factory=dict)
    cannot: Id | None = None
    """Where to go when the check could not be done."""
    skip: Id | None = None
    """Where to go when the check does not fit this vehicle."""
    conclude: tuple[Id, ...] = ()
    end: Literal["nothing-wrong", "not-reproduced", "not-from-drive", "undecided"] | None = None
    because: Text | None = None
    tell: Text | None = None
    """What to tell the customer where nothing is wrong."""


class Complaint(Model):
    """The checks by which a complaint is met, named and proved gone."""

    met: Id
    """Whether it was met at all."""
    under: Id
    """Under which condition it was met."""
    now: Id
    """Whether it is there now, with the engine running under that condition."""


class Tree(Model):
    """For one symptom, which check comes next after each outcome, down to conclusions."""

    symptom: Id
    name: Text
    phrases: tuple[Text, ...]
    repeat: Id
    """The check that proves the complaint gone."""
    complaint: Complaint | None = None
    """How the complaint is met and proved gone; none in trees from before that was asked."""
    start: Id
    uses: tuple[Id, ...] = ()
    """Branches shared with other trees; their nodes are merged into this tree when it is loaded."""
    nodes: dict[Id, Node]


class Branch(Model):
    """Nodes that several trees share; ways out of it lead to nodes that every using tree defines itself."""

    branch: Id
    nodes: dict[Id, Node]


class Interlocks(Model):
    """What can hurt someone, what is confirmed about it, and the vehicle states that this opens."""

    hazards: dict[Id, Hazard]
    confirmations: dict[Id, Confirmation]
    states: dict[Id, VehicleState]


class Knowledge(Model):
    """Everything a session needs to know; it travels whole in the first line of every trace."""

    sources: dict[Id, Source]
    tools: dict[Id, Tool]
    hazards: dict[Id, Hazard]
    confirmations: dict[Id, Confirmation]
    states: dict[Id, VehicleState]
    causes: dict[Id, Cause]
    circumstances: dict[Id, Circumstance] = Field(default_factory=dict)
    signs: dict[Id, Sign]
    checks: dict[Id, Check]
    remedies: dict[Id, Remedy]
    trees: dict[Id, Tree]
    accesses: dict[Id, Access] = Field(default_factory=dict)
    rounds: dict[Id, Round] = Field(default_factory=dict)

    @property
    def interlocks(self) -> Interlocks:
        """The part that keeps people whole."""
        return Interlocks(hazards=self.hazards, confirmations=self.confirmations, states=self.states)

    def under(self, interlocks: Interlocks) -> "Knowledge":
        """The same knowledge under other interlocks; what only the old ones name stays, for what was recorded."""
        return self.model_copy(
            update={
                "hazards": {**self.hazards, **interlocks.hazards},
                "confirmations": {**self.confirmations, **interlocks.confirmations},
                "states": {**self.states, **interlocks.states},
            }
        )
