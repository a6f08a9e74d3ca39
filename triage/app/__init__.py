"""Use cases: start, answer, pause, resume, hand over, walk recorded cases. Clock and store come in as arguments."""
