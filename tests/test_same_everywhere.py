"""What is computed and recorded is the same on every processor: another one's arithmetic writes the same bytes.

All of it, every symptom grown and every case walked: `python tests/bench/same_everywhere.py`.
"""

import pytest

from tests.bench import same_everywhere

WANTED = ("demos", "ranks", "motion", "tree:shutdown-buzz")


@pytest.fixture(scope="module")
def digests() -> dict[str, dict[str, str]]:
    made = {setting: same_everywhere.under(setting, WANTED) for setting in same_everywhere.SETTINGS}
    # A processor without the instructions of another one cannot stand in for it; two others always can.
    return {setting: parts for setting, parts in made.items() if parts}


@pytest.mark.parametrize("part", WANTED)
def test_every_processor_hash_seed_time_zone_and_locale_makes_the_same_bytes(
    digests: dict[str, dict[str, str]], part: str
) -> None:
    assert len(digests) >= 2
    assert len({made[part] for made in digests.values()}) == 1, digests
