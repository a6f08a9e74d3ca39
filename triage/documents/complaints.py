"""Pydantic's errors as faults: where in the file, what is wrong in the author's words, and what would be right."""

import difflib
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from triage.documents.document import Document, Steps
from triage.documents.faults import FAULTS_SHOWN
from triage.documents.naming import called, shown, word
from triage.documents.plain import meaning
from triage.documents.shape import keys_known_at, path_of
from triage.errors import Fault

_KINDS = {
    "string_type": "text",
    "int_type": "a whole number",
    "float_type": "a number",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "list_type": "a list",
    "set_type": "a list",
    "frozen_set_type": "a list",
    "dict_type": "keys with values",
    "model_type": "keys with values",
    "none_required": "nothing",
}


@dataclass(frozen=True)
class _Complaint:
    """One error of pydantic's, and the path in the document of what it is about."""

    path: Steps
    details: ErrorDetails
    known_keys: tuple[str, ...]

    @property
    def wanted(self) -> str:
        """What may stand here, where the error is that something of another kind does."""
        if self.details["type"] in ("literal_error", "enum"):
            return str(self.details["ctx"]["expected"])
        return _KINDS.get(self.details["type"], "")


def faults_of(error: ValidationError, document: Document, model: type[BaseModel], base: Steps) -> list[Fault]:
    """Turn what pydantic says about the value at a path into faults of the document.

    Args:
        error: what pydantic raised for that value.
        document: the document that the value is part of.
        model: what the value was to become.
        base: the path of the value.
    """
    details = error.errors(include_url=False)[: FAULTS_SHOWN + 1]
    complaints = [_complaint(each, model, base) for each in details]
    # Of the branches of a union, those that got further into the value are the ones that its author meant.
    reached = {complaint.path[:depth] for complaint in complaints for depth in range(len(complaint.path))}
    alike: dict[Steps, list[_Complaint]] = {}
    faults = []
    for complaint in complaints:
        if not complaint.wanted:
            faults.append(_fault(complaint, document))
        elif complaint.path not in reached:
            alike.setdefault(complaint.path, []).append(complaint)
    return faults + [_fault_of_kind(complaints, document) for complaints in alike.values()]


def lacking(document: Document, path: Steps) -> Fault:
    """Name what should be at a path and is not, at the place of what it should be part of."""
    owner, step = path[:-1], path[-1]
    part = f"the key '{word(step)}'" if isinstance(step, str) else f"item {step + 1}"
    return Fault(document.place_of_key(owner), f"{called(owner)} lacks {part}.")


def _complaint(details: ErrorDetails, model: type[BaseModel], base: Steps) -> _Complaint:
    location = details["loc"]
    known = keys_known_at(model, location[:-1]) if details["type"] == "extra_forbidden" else ()
    return _Complaint(base + path_of(model, location), details, known)


def _fault(complaint: _Complaint, document: Document) -> Fault:
    path, details = complaint.path, complaint.details
    match details["type"]:
        case "missing":
            return lacking(document, path)
        case "union_tag_not_found":
            return lacking(document, (*path, _discriminator(details)))
        case "union_tag_invalid":
            return _unknown_tag(complaint, document)
        case "extra_forbidden":
            return _unknown_key(complaint, document)
        case "value_error" | "assertion_error":
            message = f"{called(path)}: {details['ctx']['error']}"
        case "json_invalid":
            message = f"{called(path)} is nested too deep or holds half a character."
        case _:
            message = _sentence(called(path), details)
    return Fault(document.place(path), message)


def _fault_of_kind(alike: Sequence[_Complaint], document: Document) -> Fault:
    path, value = alike[0].path, alike[0].details["input"]
    wanted = " or ".join(dict.fromkeys(complaint.wanted for complaint in alike))
    message = f"{called(path)} should be {wanted}, not {shown(value)}."
    return Fault(document.place(path), message, _hint_for_kind(value, wanted))


def _hint_for_kind(value: object, wanted: str) -> str:
    if isinstance(value, str):
        quoted_needlessly = isinstance(meaning(value), int | float)
        return "Leave out the quotes." if quoted_needlessly else _nearest(value, _quoted(wanted))
    return "Put it in quotes." if "text" in wanted and isinstance(value, int | float) else ""


def _unknown_key(complaint: _Complaint, document: Document) -> Fault:
    path, known = complaint.path, complaint.known_keys
    key = str(path[-1])
    hint = _nearest(key, known) or (f"It may have: {', '.join(known)}." if known else "")
    return Fault(document.place_of_key(path), f"{called(path[:-1])} has no key '{word(key)}'.", hint)


def _unknown_tag(complaint: _Complaint, document: Document) -> Fault:
    context = complaint.details["ctx"]
    path = (*complaint.path, _discriminator(complaint.details))
    tag, expected = str(context["tag"]), str(context["expected_tags"])
    message = f"{called(path)} should be one of {expected}, not {shown(tag)}."
    return Fault(document.place(path), message, _nearest(tag, _quoted(expected)))


def _sentence(name: str, details: ErrorDetails) -> str:
    said, value = details["msg"].replace(" after validation", ""), details["input"]
    sentence, replaced = re.subn(r"^\w+ should", f"{name} should", said)
    if not replaced:
        return f"{name}: {said}."
    return f"{sentence}." if isinstance(value, list | dict) else f"{sentence}, not {shown(value)}."


def _discriminator(details: ErrorDetails) -> str:
    return str(details["ctx"]["discriminator"]).strip("'")


def _nearest(text: str, known: Iterable[str]) -> str:
    close = difflib.get_close_matches(text[:40], known, n=1)
    return f"Did you mean '{close[0]}'?" if close else ""


def _quoted(text: str) -> list[str]:
    return re.findall("'([^']*)'", text)
