"""Practice: a made-up vehicle with a hidden fault, and how a learner gets on with it. Nothing here is a job.

Pure but for the numbers that are drawn, and those follow from a seed alone.
"""
