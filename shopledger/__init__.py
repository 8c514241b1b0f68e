"""The shop ledger: whose an instrument is, where it is tonight, what was promised, and what is owed, to the cent."""

__version__ = "0.1.0"
