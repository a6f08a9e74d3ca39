"""From plain data to YAML that people can read and edit, and that reads back as the same data."""

import yaml

from triage.documents.plain import meaning, surprise
from triage.documents.reading import read_text

_WIDTH = 110


class _Dumper(yaml.SafeDumper):
    """Block style without aliases, with quotes only where a word would not be read as text."""

    def ignore_aliases(self, data: object) -> bool:  # noqa: ARG002 - the signature is PyYAML's
        """Write equal parts out each time: aliases are not read."""
        return True

    def represent_text(self, text: str) -> yaml.ScalarNode:
        """Choose how a text is written."""
        plain = surprise(text) is None and meaning(text) == text
        style = "|" if "\n" in text else None if plain else '"'
        return self.represent_scalar("tag:yaml.org,2002:str", text, style=style)


_Dumper.add_representer(str, _Dumper.represent_text)


def write_document(data: object, *, heading: str = "") -> str:
    """Write plain data as a YAML document, keys in the order that they have.

    Args:
        data: dict with text keys, list, str, int, float, bool or None, nested in any way.
        heading: lines of comment to put above it.

    Raises:
        DocumentFaulty: the data holds what the reader refuses, such as control characters, infinities or deep nesting.
    """
    comment = "".join(f"{f'# {line}'.rstrip()}\n" for line in heading.splitlines())
    body = yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, default_flow_style=False, width=_WIDTH)
    text = comment + body
    read_text(text, "document to be written")
    return text
