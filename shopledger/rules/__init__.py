"""What follows from the facts: pure functions over frozen values."""
