"""Plain data as YAML that this package reads back: one document, its keys in their order, and no alias."""

from typing import Any

import yaml

WIDTH = 120
SHORT = 3
"""A list of so many items stands on one line."""


class _Dumper(yaml.SafeDumper):
    """A dumper that repeats what stands twice, since no reader here follows an alias."""

    def ignore_aliases(self, data: object) -> bool:  # noqa: ARG002
        """Never write an alias."""
        return True

    def represent_sequence(self, tag: str, sequence: Any, flow_style: bool | None = None) -> yaml.SequenceNode:  # noqa: ANN401, FBT001
        """Write a long list with an item a line."""
        return super().represent_sequence(tag, sequence, flow_style=len(sequence) <= SHORT and flow_style)


def write_text(data: object) -> str:
    """Write data as a document.

    Args:
        data: mappings, lists, text, numbers, true, false and nothing.
    """
    text = yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=WIDTH, default_flow_style=None)
    return str(text)
