"""The proof of a ledger, by subject: each module looks for what can be wrong with one kind of thing."""
