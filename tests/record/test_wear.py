"""Lives of parts, against their integrals and closed forms."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from triage.record.wear import Life, Uniform, Weibull

LIVES: list[Life] = [Weibull(shape=2.5, scale=1000.0), Weibull(shape=1.2, scale=30.0), Uniform(longest=400.0)]


@pytest.mark.parametrize("life", LIVES, ids=str)
@pytest.mark.parametrize("share", [0.01, 0.3, 0.7, 1.0])
def test_the_mean_age_reached_is_the_area_under_those_alive(life: Life, share: float) -> None:
    age, steps = share * life.end, 20_000
    middles = (age * (place + 0.5) / steps for place in range(steps))
    assert life.lived(age) == pytest.approx(sum(map(life.alive, middles)) * age / steps, rel=1e-5)


@given(st.floats(1.01, 20.0), st.floats(0.1, 1e9))
def test_the_mean_weibull_life_is_that_of_the_gamma_function(shape: float, scale: float) -> None:
    life = Weibull(shape=shape, scale=scale)
    assert life.lived(math.inf) == pytest.approx(scale * math.gamma(1.0 + 1.0 / shape), rel=1e-9)


@pytest.mark.parametrize("life", LIVES, ids=str)
def test_the_hazard_is_what_fails_of_those_alive(life: Life) -> None:
    age, step = 0.4 * life.end, 1e-6 * life.end
    failing = (life.alive(age - step) - life.alive(age + step)) / (2 * step)
    assert life.hazard(age) == pytest.approx(failing / life.alive(age), rel=1e-5)
