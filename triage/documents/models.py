"""From plain data to frozen models, strictly, and with the place of everything that does not fit."""

import json
from collections.abc import Sequence
from typing import TypeVar, cast

from pydantic import BaseModel, ConfigDict, ValidationError

from triage.documents.complaints import faults_of, lacking
from triage.documents.document import Document, Step
from triage.documents.faults import faulty
from triage.errors import Fault

M = TypeVar("M", bound=BaseModel)


class Model(BaseModel):
    """Base of every model that is read from a document or a trace.

    Frozen, without unknown keys, without infinities, and strict: a quoted number is text, a whole number is no truth
    value, 1.0 is no whole number. Lists become tuples and text becomes the member of a Literal or Enum, because a
    document has no other way to write these. A validator of a subclass raises ValueError with one whole sentence.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)


def build(document: Document, model: type[M], path: Sequence[Step] = ()) -> M:
    """Make a model out of a part of a document.

    Args:
        document: what was read.
        model: what the part is to become.
        path: leads to the part; the whole document when left out.

    Raises:
        DocumentFaulty: there is no such part, or it does not fit; everything that does not fit is named.
    """
    part = _part(document, path)
    try:
        # Pydantic's JSON mode is strict about kinds that JSON has and takes lists and text for those that it has not.
        return model.model_validate_json(json.dumps(part))
    except ValidationError as error:
        faults = faults_of(error, document, model, tuple(path))
    except (ValueError, RecursionError) as error:
        faults = [Fault(document.place(path), f"This cannot be read as plain data: {error}.")]
    raise faulty(faults)


def rebuild(model: type[M], data: object, *, name: str = "trace") -> M:
    """Make a model again out of what its `model_dump(mode="json")` gave.

    Args:
        model: what the data was dumped from.
        data: plain data, as a JSON reader returns it.
        name: what faults call it; they give line 1, column 1 and name the part.

    Raises:
        DocumentFaulty: the data does not fit; everything that does not fit is named.
    """
    return build(Document(data, name), model)


def _part(document: Document, path: Sequence[Step]) -> object:
    part = document.data
    for depth, step in enumerate(path, start=1):
        if isinstance(part, dict) and step in part:
            part = part[step]
        elif isinstance(part, list) and step in range(len(part)):
            part = part[cast("int", step)]
        else:
            raise faulty([lacking(document, tuple(path[:depth]))])
    return part
