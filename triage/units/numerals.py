"""Numbers as people write them, read exactly and without evaluating anything.

A number is taken off the start of a text as it stands; what its marks mean (decimal or thousands) is only settled when
kind and unit are known. All arithmetic is in exact fractions.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from triage.errors import QuantityRefused, QuantityUnclear

# Workshop fractions only, so that "11/12" or a date is not taken for one.
_DENOMINATORS = frozenset({2, 3, 4, 8, 16, 32, 64})

_LARGEST_POWER = 99

_NUMERAL = re.compile(
    r"(?P<sign>[+-] ?)?"
    r"(?:(?:(?P<whole>[0-9]{1,3})[ -])?(?P<part>[0-9]{1,2})/(?P<parts>[0-9]{1,2})(?![0-9.,/])"
    r"|(?P<digits>[0-9]+(?:[., '][0-9]+)*|[.,][0-9]+)(?:[eE](?P<power>[+-]?[0-9]+)(?![0-9.,]))?)"
)
MAY_GROUP = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""A number whose one mark may group thousands; they never start with a nought, so 0,125 is a decimal number."""
_ONE_MARK = re.compile(r"(?P<whole>[0-9]*)(?P<mark>[.,])(?P<rest>[0-9]+)")
_GROUPS = re.compile(
    r"[1-9][0-9]{0,2}(?P<group>[., '])[0-9]{3}(?:(?P=group)[0-9]{3})*(?:(?!(?P=group))[.,](?P<rest>[0-9]+))?"
)


@dataclass(frozen=True)
class Numeral:
    """A number as it was typed.

    Args:
        sign: +1 or -1.
        signed: whether a sign was typed.
        exact: its value where the spelling alone settles it (whole numbers, fractions).
        digits: figures and marks where kind and unit have to settle it.
        power: of ten, typed behind an e.
        fraction: of the workshop, as typed.
    """

    sign: int
    signed: bool
    exact: Fraction | None
    digits: str = ""
    power: int = 0
    fraction: str = ""

    @property
    def as_typed(self) -> str:
        """The number as it was typed, a comma as a decimal point; "" where its marks may say more than that."""
        if self.fraction or self.power:
            return self.fraction
        one_mark = _ONE_MARK.fullmatch(self.digits)
        if one_mark and not MAY_GROUP.fullmatch(self.digits):
            return f"{one_mark['whole'] or 0}.{one_mark['rest']}"
        return self.digits if self.digits.isdigit() else ""


def take_numeral(text: str) -> tuple[Numeral, str] | None:
    """Return the number at the start of a text and what follows it, or None where no number starts.

    Raises:
        QuantityRefused: a division that is no workshop fraction.
    """
    found = _NUMERAL.match(text)
    if found is None:
        return None
    numeral = Numeral(
        sign=-1 if (found["sign"] or "").startswith("-") else 1,
        signed=found["sign"] is not None,
        exact=_fraction(found) if found["part"] else _plain_value(found["digits"], found["power"]),
        digits=found["digits"] or "",
        power=int(found["power"] or 0),
        fraction=found.group().strip("+- ") if found["part"] else "",
    )
    return numeral, text[found.end() :]


def _fraction(found: re.Match[str]) -> Fraction:
    part, parts = int(found["part"]), int(found["parts"])
    if parts not in _DENOMINATORS or part >= parts:
        raise QuantityRefused(
            f"“{found.group()}” is not a workshop fraction, and nothing is calculated here.",
            "Write it as a decimal number, or like 3/16 or 2 1/2.",
        )
    return int(found["whole"] or 0) + Fraction(part, parts)


def _plain_value(digits: str, power: str | None) -> Fraction | None:
    if power is not None:
        if abs(int(power)) > _LARGEST_POWER:
            raise QuantityRefused(f"“{digits}e{power}” is too large or too small to be a reading.", "Check the number.")
        if not re.fullmatch(r"[0-9]*[.,]?[0-9]+", digits):
            raise QuantityRefused(f"“{digits}e{power}” cannot be read as one number.", "Write the number out.")
    return Fraction(digits) * Fraction(10) ** int(power or 0) if digits.isdigit() else None


def value_of(numeral: Numeral, *, comma_groups: bool, dot_may_group: bool) -> Fraction:
    """Return the value of a number whose kind and unit are known.

    Args:
        numeral: the number as typed.
        comma_groups: usual values are so large that one comma before three digits groups thousands.
        dot_may_group: figures in this unit are so large that one dot before three digits may group thousands too.

    Raises:
        QuantityRefused: the marks fit no way of writing a number.
        QuantityUnclear: a mark may be the decimal one or group thousands.
    """
    if numeral.exact is not None:
        return numeral.sign * numeral.exact
    one_mark = _ONE_MARK.fullmatch(numeral.digits)
    if one_mark is not None and numeral.power:
        # Nobody groups thousands before a power of ten, or not without doubt.
        scaled = _one_mark(one_mark, comma_groups=False, dot_may_group=False, behind=f"e{numeral.power}")
        return numeral.sign * scaled * Fraction(10) ** numeral.power
    if one_mark is not None:
        return numeral.sign * _one_mark(one_mark, comma_groups=comma_groups, dot_may_group=dot_may_group)
    groups = _GROUPS.fullmatch(numeral.digits)
    if groups is None:
        raise QuantityRefused(f"“{numeral.digits}” cannot be read as one number.", "Give one number, such as 1500.5.")
    whole, rest = numeral.digits, ""
    if groups["rest"]:
        whole, rest = whole[: groups.start("rest") - 1], groups["rest"]
    return numeral.sign * Fraction(f"{re.sub('[^0-9]', '', whole)}.{rest or 0}")


def _one_mark(found: re.Match[str], *, comma_groups: bool, dot_may_group: bool, behind: str = "") -> Fraction:
    """Settle a single comma or dot."""
    decimal = Fraction(f"{found['whole'] or 0}.{found['rest']}")
    if not MAY_GROUP.fullmatch(found.group()):
        return decimal
    if found["mark"] == ",":
        if comma_groups:
            return decimal * 1000
        raise _unclear(found.group(), ",", behind)
    if dot_may_group:
        raise _unclear(found.group(), ".", behind)
    return decimal


def _unclear(digits: str, mark: str, behind: str) -> QuantityUnclear:
    whole, _, rest = digits.partition(mark)
    decimal = f"{whole}.{rest.rstrip('0')}".rstrip(".")
    ways = f"{decimal}{behind} or {digits.replace(mark, '')}{behind}"
    return QuantityUnclear(f"“{digits}{behind}” can be read two ways: {ways}?", "Type the one that is meant.")
