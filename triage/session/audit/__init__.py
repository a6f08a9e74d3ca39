"""Whether this program could have written a trace: its order, vehicle states and safety, never advice or wording.

It shares no code with the rules that write events, so that what one of them gets wrong does not pass the other.
"""

from triage.session.audit.naming import Names
from triage.session.audit.timing import date_of, is_dated
from triage.session.audit.walk import Objection, objections

__all__ = ["Names", "Objection", "date_of", "is_dated", "objections"]
