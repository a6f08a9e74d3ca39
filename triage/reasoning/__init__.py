"""What findings and readings say: conformity near limits, which causes stand behind them, and what to find out next."""

import os

# The arrays here are small: several threads would only wait for each other, for many times as long as the work takes.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
