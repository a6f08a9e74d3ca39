"""What to put right first, what to renew with it, and what that costs."""
