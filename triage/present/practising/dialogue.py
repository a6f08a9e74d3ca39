"""The dialogue of an exercise, whatever the face: shows a view, takes a line, says what came of it.

It begins at the vehicle as it came in and ends with the debrief. Whatever is typed, nothing leaves this exercise:
there is no session behind it.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from triage.errors import CommandRefused
from triage.listening import items
from triage.practice.allowed import refusal
from triage.practice.exercise import Exercise
from triage.practice.hints import PRICES_MIN, hint
from triage.practice.safety import Missed, Question
from triage.practice.score import PARTS
from triage.practice.sealing import Seal
from triage.practice.weeks.learned import learned_from
from triage.present.practising import said, views
from triage.present.practising.debrief import debrief
from triage.present.practising.naming import asked_for
from triage.present.practising.typed import are_numbers, numbers, shares
from triage.present.practising.views import PracticeView

if TYPE_CHECKING:
    from triage.knowledge.models import Knowledge
    from triage.listening.listener import Listener
    from triage.practice.answers import Shown

Keep = Callable[[str, Mapping[str, object]], None]
Lines = tuple[str, ...]
HELP: Final = (
    "Say which check you make next, in your own words, or give its number from the list.",
    "list: every check and round · tree: what the tree makes next · so far: what was found",
    "think: what you hold likely now · conclude: name the cause, put it right, prove it",
    "hint: what is open; once more, what tells it apart; once more, what triage would do. Each has its price.",
    "leave: stop; what is hidden stays hidden",
)
NONE: Final = "0"
MOST_OFFERED: Final = 5


class PracticeDialogue:
    """An exercise, question by question.

    Attributes:
        over: whether it has ended, or was left.
        debriefed: the debrief, once there was one.
    """

    def __init__(self, exercise: Exercise, listener: "Listener", seal: Seal, keep: Keep) -> None:
        """Begin.

        Args:
            exercise: the vehicle and what came of it.
            listener: understands what is typed in words.
            seal: keeps the seed from the record until the debrief.
            keep: writes a line of the record.
        """
        self.exercise, self.over = exercise, False
        self._listener, self._seal, self._keep = listener, seal, keep
        self._stage = "work"
        self._waiting: tuple[str, ...] = ()
        self._question: Question | None = None
        self._to_judge: list[Shown] = []
        self._causes: tuple[str, ...] = ()
        self._then = ""
        self._hinted = 0
        self._from: int | None = None
        self.debriefed: Lines = ()
        vehicle = exercise.vehicle
        opened = {"symptom": vehicle.symptom, "level": vehicle.level, "seal": seal.digest}
        keep("begun", {**opened, "said": list(said.customer(exercise))})

    @property
    def _knowledge(self) -> "Knowledge":
        return self.exercise.knowledge

    @property
    def view(self) -> PracticeView:
        """What is asked now."""
        exercise = self.exercise
        match self._stage:
            case "safety":
                assert self._question is not None  # noqa: S101 - the stage goes with it
                return views.safety(exercise, self._waiting, self._question)
            case "judge":
                return views.judge(exercise, self._to_judge[0].check)
            case "think":
                return views.think(exercise)
            case "conclude":
                return views.conclude(exercise)
            case "repair":
                return views.repair(exercise, self._remedies())
            case "prove":
                return views.prove(exercise)
            case "over":
                return views.over(exercise)
        return views.work(exercise)

    def take(self, line: str) -> Lines:
        """Take a line; what is said to it."""
        typed = line.strip()
        if typed.lower() in ("leave", "quit"):
            return self._leave()
        if typed.lower() == "help":
            return HELP
        takes: dict[str, Callable[[str], Lines]] = {
            "work": self._work,
            "safety": self._safety,
            "judge": self._judge,
            "think": self._think,
            "conclude": self._conclude,
            "repair": self._repair,
            "prove": self._prove,
            "over": self._over,
        }
        try:
            return takes[self._stage](typed)
        except CommandRefused as refused:
            return (refused.message, refused.hint)

    def _leave(self) -> Lines:
        if not self.over and self._stage != "over":
            self._keep("left", {"minutes": self.exercise.minutes})
        self.over = True
        return ("Practice has ended. There was no vehicle, and no job was touched.",)

    # --- what is made next

    def _listed(self) -> list[tuple[str, tuple[str, ...]]]:
        """Words and checks of everything that can be asked for, in an order that stays."""
        states = [*self._knowledge.states]
        known = self._knowledge.checks
        ordered = sorted(
            self.exercise.checks, key=lambda one: states.index(known[one].state) if known[one].state in states else -1
        )
        checks = [(said.check_line(known[one]), (one,)) for one in ordered]
        rounds = [
            (f"In one go: {self._knowledge.rounds[one].name} ({self._knowledge.rounds[one].minutes.text})", checks)
            for one, checks in self.exercise.rounds().items()
        ]
        return [*checks, *rounds]

    def _work(self, typed: str) -> Lines:
        words: dict[str, Callable[[], Lines]] = {
            "list": self._list,
            "so far": lambda: tuple(said.found_lines(self.exercise)) or ("Nothing was found yet.",),
            "think": lambda: self._ask_beliefs("work"),
            "conclude": lambda: self._ask_beliefs("conclude"),
            "tree": self._tree,
            "hint": self._hint,
        }
        word = words.get(typed.lower())
        if word:
            return word()
        if not typed:
            return HELP
        if are_numbers(typed):
            listed = self._listed()
            (place, *_) = numbers(typed, len(listed))
            return self._begin(listed[place][1])
        return self._in_words(typed)

    def _list(self) -> Lines:
        made = self.exercise.made
        return tuple(
            f"  {number}  {words}{' · made' if len(checks) == 1 and checks[0] in made else ''}"
            for number, (words, checks) in enumerate(self._listed(), 1)
        )

    def _tree(self) -> Lines:
        checks = self.exercise.of_tree()
        if checks:
            return (f"The tree: {'; '.join(self._knowledge.checks[one].name for one in checks)}.", *self._begin(checks))
        node = self.exercise.place().node
        causes = ", ".join(self._knowledge.causes[one].name for one in node.conclude)
        ends = causes or (node.because or node.tell or "no cause")
        return (f"The tree ends here, by what you judged: {ends}", 'Type "conclude" to name what you hold right.')

    def _hint(self) -> Lines:
        step = min(self._hinted, len(PRICES_MIN) - 1)
        told, price = hint(self.exercise, step), PRICES_MIN[step]
        self._hinted += 1
        self.exercise.hint_min += price
        self._keep("hinted", {"step": step + 1})
        return (*said.hint_lines(self._knowledge, told, step), f"That hint counts {price:.0f} min in the score.")

    def _in_words(self, typed: str) -> Lines:
        found = asked_for(self._knowledge, self._listener, typed, self.exercise.checks)
        if len(found) == 1:
            return self._begin(found)
        numbers_of = {checks[0]: number for number, (_, checks) in enumerate(self._listed(), 1) if len(checks) == 1}
        offered = tuple(f"  {numbers_of[one]}  {self._knowledge.checks[one].name}" for one in found[:MOST_OFFERED])
        if offered:
            return ("Which of these do you mean?", *offered)
        return ("I know no check by these words.", '"list" shows every check with its number.')

    def _begin(self, checks: Sequence[str]) -> Lines:
        made = [one for one in checks if one in self.exercise.made]
        if made:
            name = self._knowledge.checks[made[0]].name
            return (f"{name} was made: {said.outcome_words(self._knowledge, made[0], self.exercise.made[made[0]])}.",)
        refused = refusal(self.exercise, checks)
        if refused:
            return self._refuse(refused.why, refused.not_done, refused.unsafe)
        self._waiting = tuple(checks)
        self._question = self.exercise.ask_safety(checks)
        if self._question is None:
            return self._go()
        self._stage = "safety"
        return ()

    def _refuse(self, why: str, not_done: Sequence[str], unsafe: Missed | None) -> Lines:
        for check in not_done:
            self.exercise.judge(check, ())
        noted = ("It is noted as could not be done.",) if not_done else ()
        self._keep("refused", {"why": why, "not_done": list(not_done), "unsafe": bool(unsafe)})
        if unsafe is None:
            return (why, *noted)
        self.exercise.missed.append(unsafe)
        return (why, *said.missed_lines([unsafe]), *noted)

    # --- safety

    def _safety(self, typed: str) -> Lines:
        assert self._question is not None  # noqa: S101 - as above
        if typed.lower() == "back":
            self._stage, self._then = ("prove" if self._then == "prove" else "work"), ""
            return ()
        picks = () if typed == NONE else numbers(typed, len(self._question.proposals))
        named = self.exercise.name(self._question, picks)
        self._keep("named", {"state": self._question.target.id, "good": named.good, "errors": len(named.missed)})
        return (*said.named_lines(named), *self._go())

    # --- what is seen

    def _go(self) -> Lines:
        if self._then == "prove":
            return self._proof()
        gone, self._hinted = self.exercise.go(self._waiting), 0
        self._keep("made", {"checks": list(gone.checks), "minutes": gone.minutes})
        self._to_judge = [one for one in gone.shown if one.outcomes]
        silent = tuple(line for one in gone.shown if not one.outcomes for line in self.exercise.perceived(one))
        return (*silent, *self._show_next())

    def _show_next(self) -> Lines:
        self._stage = "judge" if self._to_judge else "work"
        if not self._to_judge:
            return ()
        return self._perceived(self.exercise.perceived(self._to_judge[0]))

    def _perceived(self, lines: Lines) -> Lines:
        check = self._to_judge[0].check
        self._keep("shown", {"check": check, "said": list(lines)})
        return (f"{self._knowledge.checks[check].name}:", *(f"  {line}" for line in lines))

    def _judge(self, typed: str) -> Lines:
        check = self._knowledge.checks[self._to_judge[0].check]
        if typed.lower() == "again":
            return self._perceived(self.exercise.again(self._to_judge[0]))
        if typed.lower() == "unsure":
            outcomes: tuple[str, ...] = ()
        elif are_numbers(typed):
            places = numbers(typed, len(check.outcomes))
            outcomes = tuple(check.outcomes[at].id for at in (places if check.several else places[:1]))
        else:
            outcomes = self._understood(check.id, typed)
        self.exercise.judge(check.id, outcomes)
        self._keep("judged", {"check": check.id, "outcomes": list(outcomes)})
        self._to_judge.pop(0)
        return (f"Taken: {said.outcome_words(self._knowledge, check.id, outcomes)}.", *self._show_next())

    def _understood(self, check: str, typed: str) -> tuple[str, ...]:
        found = self._listener.understand(typed, check)
        outcomes = tuple(one.outcome for one in found.items if isinstance(one, items.Finding) and one.check == check)
        if not outcomes:
            raise CommandRefused("I did not get that.", "Type the number of an answer, or say it in another way.")
        return outcomes if self._knowledge.checks[check].several else outcomes[:1]

    # --- what is held likely, concluded and done

    def _ask_beliefs(self, then: str) -> Lines:
        self._then, self._stage = then, "think"
        return ()

    def _think(self, typed: str) -> Lines:
        if typed:
            held = shares(typed, self.exercise.nameable())
            self.exercise.believe(held)
            self._keep("believed", {"shares": held})
        self._stage, self._then = self._then, ""
        return ()

    def _conclude(self, typed: str) -> Lines:
        if typed.lower() == "back":
            self._stage = "work"
            return ()
        names = self.exercise.nameable()
        self._causes = () if typed == NONE else tuple(names[at] for at in numbers(typed, len(names)))
        self._keep("concluded", {"causes": list(self._causes)})
        if not self._causes:
            return self._repaired(())
        self._stage = "repair"
        return ()

    def _remedies(self) -> tuple[str, ...]:
        """What can be done about this complaint, what was concluded first."""
        mine = [self._knowledge.causes[one].remedy for one in self._causes]
        others = [self._knowledge.causes[one].remedy for one in self.exercise.nameable()]
        return tuple(dict.fromkeys((*mine, *others)))

    def _repair(self, typed: str) -> Lines:
        remedies = self._remedies()
        if not typed:
            mine = {self._knowledge.causes[one].remedy for one in self._causes}
            done = tuple(one for one in remedies if one in mine)
        else:
            done = () if typed == NONE else tuple(remedies[at] for at in numbers(typed, len(remedies)))
        return self._repaired(done)

    def _repaired(self, done: tuple[str, ...]) -> Lines:
        self.exercise.repaired(self._causes, done)
        self._keep("repaired", {"remedies": list(done)})
        self._stage = "prove" if done else "over"
        return () if done else self._debrief()

    def _prove(self, typed: str) -> Lines:
        (place, *_) = numbers(typed, 2)
        if place == 1:
            return self._debrief()
        check = self._knowledge.trees[self.exercise.vehicle.symptom].repeat
        self._then, self._waiting = "prove", (check,)
        self._question = self.exercise.ask_safety(self._waiting)
        if self._question is None:
            return self._proof()
        self._stage = "safety"
        return ()

    def _proof(self) -> Lines:
        shown = self.exercise.prove()
        assert self.exercise.ended is not None  # noqa: S101 - proof comes behind the repair
        self._keep("proved", {"check": self.exercise.ended.proved, "said": list(shown)})
        lines = shown or ("The complaint was not there before either: that it is not there proves nothing.",)
        return (*(f"  {line}" for line in lines), *self._debrief())

    # --- the end

    def _debrief(self) -> Lines:
        self._stage = "over"
        told = debrief(self.exercise)
        self.debriefed, self._from = told.lines, told.worst
        vehicle = self.exercise.vehicle
        opened = {"seed": self._seal.seed, "salt": self._seal.salt, "faults": list(vehicle.faults)}
        score = {part: round(told.score.of(part), 1) for part in PARTS}
        went = {"minutes": self.exercise.minutes, "lost_min": score, "safety_errors": len(self.exercise.missed)}
        learned = learned_from(self.exercise, told.score)
        self._keep("debriefed", {**opened, "made": list(vehicle.made), **went, **learned})
        return ("", *told.lines, "", self._once_more())

    def _over(self, typed: str) -> Lines:
        """Try again from where most was lost, or go."""
        if typed.lower() != "again":
            return self._leave()
        self._keep("again", {"from": self._from or 0})
        self.exercise = self.exercise.again_from(self._from or 0)
        self._stage, self._then, self._hinted = "work", "", 0
        return ("Once more from there. What you found before it stands.", *said.found_lines(self.exercise))

    def _once_more(self) -> str:
        vehicle = self.exercise.vehicle
        if vehicle.recorded:
            return f"The same case again: --seed {self._seal.seed}"
        again = f"triage practice {vehicle.symptom} --level {vehicle.level} --seed {self._seal.seed}"
        return f"The same vehicle again: {again}"
