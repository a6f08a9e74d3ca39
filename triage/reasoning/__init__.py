"""What findings and readings say: conformity near limits, and which causes stand behind them."""
