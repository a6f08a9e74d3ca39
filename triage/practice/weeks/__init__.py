"""Many exercises of one learner: what is kept of each, how they go over weeks, and what the next one should train."""
