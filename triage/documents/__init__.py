"""Documents that people write by hand: YAML in, with the place of every fault, and out.

The YAML read here is a small part of YAML, chosen so that no reader of the format can understand it differently:

- one document a file, UTF-8 without byte order mark, at most 1 MiB, nested at most 20 deep, at most 50,000 nodes;
- mappings whose keys are text and stand once, lists, text in every style;
- true, false, null (or nothing), and numbers as JSON has them: 8, -0.5, 1e-6;
- no tabs, unseen characters, aliases, anchors, tags, merge keys or directives;
- words on which readers disagree (yes, no, on, off, 010, 0x1F, 1_000, 12:30, 2024-05-06, .inf, ~) only in quotes.

Reading and writing are imported from their modules: traces are made of these models too, and load no YAML for it.
"""

from triage.documents.document import Document
from triage.documents.files import content_of, is_there
from triage.documents.models import Model, build, rebuild

__all__ = ["Document", "Model", "build", "content_of", "is_there", "rebuild"]
