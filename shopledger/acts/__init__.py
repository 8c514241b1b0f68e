"""What the shop does: one function an act, each one transaction."""
