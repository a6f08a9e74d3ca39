"""The start: a new session, unfinished and saved ones, demos, trees, the shop file."""

import asyncio
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from triage.errors import TriageError
from triage.present.commands import word_for
from triage.present.shapes import NOT_REVIEWED
from triage.tui import later
from triage.tui.desk import Desk, Saved
from triage.tui.pages.opening import OpeningScreen
from triage.tui.pages.page_screen import Page, PageScreen, Way
from triage.tui.pages.reader import Reader
from triage.tui.session.timing import TapAlong

if TYPE_CHECKING:
    from triage.app.job import Job
    from triage.app.opening import Opening
    from triage.knowledge.models import Knowledge
    from triage.knowledge.wording.matching import Matcher
    from triage.tui.once import Once

Action = Callable[[], object]
TITLE = "triage · accessory belt drives"
KEYS = 'Press a number · "drive" · "tool" · "help" · "leave" stops'
MOST_LISTED = 2
"""Unfinished sessions on the start page, so that one key reaches everything on it; the list of saved ones has all."""


class StartScreen(PageScreen[None]):
    """What can be begun."""

    ABOUT = (
        "From here a session is begun, or one that was left is taken up again.",
        "Saved sessions can be read, demo sessions played; neither is changed by that.",
        "Trees, tap-along and practice need no session. The shop file tells instruments and reviewer.",
        "Nor do four words: layout enters a drive, drive shows what one does, drive run what it does in time;",
        "tool works out torque, slip or tension.",
    )

    def __init__(self, desk: Desk, knowledge: "Once[Knowledge]", matcher: "Once[Matcher]") -> None:
        """Show the start.

        Args:
            desk: every way out of the face.
            knowledge: what the trade knows; still being read, perhaps.
            matcher: finds symptoms by free words; likewise.
        """
        super().__init__()
        self._desk = desk
        self._knowledge = knowledge
        self._matcher = matcher
        self._page: Page[Action] = Page("")
        self._saved: tuple[Saved, ...] = ()
        self._trouble = ""
        self._covered = False

    async def read(self) -> None:
        """Read which sessions are saved, away from the screen."""
        self._saved, self._trouble = (), ""
        try:
            self._saved = await asyncio.to_thread(self._desk.saved)
        except TriageError as error:
            self._trouble = str(error)

    def on_mount(self) -> None:
        """Show the first page."""
        self._home()

    def on_screen_resume(self) -> None:
        """Read the sessions anew whenever this screen comes back; the first time they were read before it."""
        if self._covered:
            self._covered = False
            self._come_back()
        else:
            super().on_screen_resume()

    def on_screen_suspend(self) -> None:
        """Know that something lay over this screen."""
        self._covered = True

    def _come_back(self) -> None:
        # Until the list is there no number stands for anything, so that none is taken for one of the new list.
        self._put(Page(TITLE, ("Reading the saved sessions …",), (), KEYS))
        self.run_worker(self._read_anew(), exclusive=True)

    async def _read_anew(self) -> None:
        await self.read()
        self._home()

    def take(self, typed: str) -> None:
        """Do what a number stands for."""
        if typed.lower() in ("q", "leave"):
            self.app.exit()
            return
        word = word_for(typed)
        action = self._page.way(typed)
        if action is None and typed.replace(" ", "").isalpha() and later.is_work(" ".join(typed.lower().split())):
            action = partial(self._work, " ".join(typed.lower().split()))
        if action is None and word:
            self.say(f'"{word.name}" answers in a session: begin one, or go on with one.')
            return
        if action is None and typed and self._page.ways:
            self.say(f'Type a number from 1 to {len(self._page.ways)}, or "leave".')
            return
        try:
            (action or self._come_back)()
        except TriageError as error:
            self.say(str(error))

    def _put(self, page: Page[Action]) -> None:
        self._page = page
        self.show(page)

    def _home(self) -> None:
        unfinished = [one for one in self._saved if one.open][:MOST_LISTED]
        ways: list[Way[Action]] = [
            Way("New session", self._new),
            *(Way(f"Go on: {one.words}", partial(self._resume, one)) for one in unfinished),
            Way("Saved sessions: read one, or go on with it", self._list),
            Way("Demo: a saved session played step by step", self._demos),
            Way("Trees: walk and search without a vehicle", self._trees),
            Way("Tap along: the rate of a chirp or of a mark on the belt", self._tap),
            Way("Shop file: instruments and reviewer", self._shop),
            Way("Practice: find the hidden fault of a made-up vehicle", self._practise),
        ]
        lines = (NOT_REVIEWED, "", "What is to be done?")
        self._put(Page(TITLE, lines, tuple(ways), KEYS))
        self.say(self._trouble)

    def _new(self) -> None:
        self.app.push_screen(OpeningScreen(self._knowledge.get(), self._matcher), self._opened)

    def _opened(self, opening: "Opening | None") -> None:
        if opening:
            self._enter(lambda: (self._desk.begin(self._knowledge.get(), opening), ()))

    def _resume(self, saved: Saved) -> None:
        self._enter(lambda: self._desk.resume(saved.path))

    def _enter(self, take_up: "Callable[[], tuple[Job, tuple[str, ...]]]") -> None:
        try:
            job, notices = take_up()
        except TriageError as error:
            self.say(str(error))
            return
        self.app.push_screen(later.session(job, notices), self._left)

    def _left(self, then: str | None) -> None:
        if then:
            self.app.exit(then)

    def _list(self) -> None:
        ways = tuple(Way(one.words, partial(self._one, one)) for one in self._saved)
        lines = ("Saved sessions, the last one first",) if self._saved else ("No session is saved yet.",)
        self._put(Page("Saved sessions", lines, ways, "Number: open it · Enter alone: back"))

    def _one(self, saved: Saved) -> None:
        if not saved.open:
            self._read(saved)
            return
        ways = (Way("Go on with it", partial(self._resume, saved)), Way("Only read it", partial(self._read, saved)))
        self._put(Page("Saved sessions", (saved.words,), ways, "Press a number · Enter alone: back"))

    def _read(self, saved: Saved) -> None:
        self.app.push_screen(later.reader(saved.path.stem, self._desk.replay(saved.path)))

    def _demos(self) -> None:
        demos = self._desk.demos()
        ways = tuple(Way(demo.stem, partial(self._play, demo.stem, number)) for number, demo in enumerate(demos))
        lines = ("Demo sessions; their data are invented.",) if demos else ("No demo session is installed.",)
        self._put(Page("Demo", lines, ways, "Number: play it · Enter alone: back"))

    def _play(self, name: str, number: int) -> None:
        self.app.push_screen(later.player(name, self._desk.replay(self._desk.demos()[number])))

    def _trees(self) -> None:
        self.app.push_screen(later.browser(self._knowledge.get()))

    def _practise(self) -> None:
        self.app.push_screen(later.practising(self._knowledge.get(), self._desk.practise))

    def _tap(self) -> None:
        self.app.push_screen(TapAlong(), lambda rate: self.say(f"Tapped: {rate}" if rate else ""))

    def _work(self, word: str) -> None:
        self.app.push_screen(later.working(word, self._knowledge.get()))

    def _shop(self) -> None:
        lines = self._desk.shop()
        self.app.push_screen(Reader("Shop file", lambda _: lines))
