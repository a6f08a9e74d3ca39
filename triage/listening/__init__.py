"""From a sentence as somebody types it to what it says, said back before anything counts.

Nothing here decides, records or starts: an item is a proposal, and no kind of item confirms, starts, renews a part,
tightens or signs off.
"""
