"""What each paper states, read from the ledger: a module a paper, and the parties, things and terms they share."""
