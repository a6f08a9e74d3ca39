"""Pages stand whatever comes between opening and painting them."""

from typing import Any

from triage.tui.pages.browser import Browser
from triage.tui.pages.reader import Reader
from triage.tui.session.timing import TapAlong


async def test_a_page_that_is_closed_before_it_was_painted_does_no_harm(bench: Any) -> None:
    async with bench.app().run_test(size=(80, 24)) as pilot:
        await bench.open_session(pilot)
        for page in (Reader("help", lambda _width: ("a line",)), Browser(bench.knowledge), TapAlong()):
            pilot.app.push_screen(page)
            await page.run_action("scroll_page(1)")
            pilot.app.pop_screen()
            await page.run_action("scroll_page(1)")
        await bench.settle(pilot)
        assert "Before anything else" in bench.painted(pilot.app)
