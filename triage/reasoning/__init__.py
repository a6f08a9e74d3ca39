"""What findings and readings say: conformity near limits, which causes stand behind them, and what to find out next."""
