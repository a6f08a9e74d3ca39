"""Traces on disk, and the places of the shop file and the shop's own trees."""

from triage.store.faults import FaultKind, TraceFault
from triage.store.folders import data_folder, kept_folder, shop_file_path, shop_trees_folder
from triage.store.head import Head
from triage.store.knowledge import digest_of_knowledge
from triage.store.lines import FORMAT_VERSION, Line
from triage.store.listed.glance import Summary
from triage.store.listed.listing import list_traces
from triage.store.traces import Trace, export_trace, read_sound, read_trace, travelling, verify_trace
from triage.store.writer import NameTaken, TraceWriter

__all__ = [
    "FORMAT_VERSION",
    "FaultKind",
    "Head",
    "Line",
    "NameTaken",
    "Summary",
    "Trace",
    "TraceFault",
    "TraceWriter",
    "data_folder",
    "digest_of_knowledge",
    "export_trace",
    "kept_folder",
    "list_traces",
    "read_sound",
    "read_trace",
    "shop_file_path",
    "shop_trees_folder",
    "travelling",
    "verify_trace",
]
