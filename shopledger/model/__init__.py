"""What the ledger keeps: the mapped records and their field declarations; importing this room maps them all."""

from __future__ import annotations

from shopledger.model.agreements import Agreement, Bracket, PriceChange, Signature, Terms, TermsOwner
from shopledger.model.changes import Change, ChangeValue, Deed, Search
from shopledger.model.instruments import Fitting, Instrument, Measurement, Ownership, OwnershipShare, Picture
from shopledger.model.journal import Account, Entry, Posting, Seal
from shopledger.model.money import (
    Charge,
    FeePayment,
    Payment,
    PaymentShare,
    Payout,
    PayoutShare,
    Refund,
    RefundShare,
    Settlement,
    SettlementShare,
)
from shopledger.model.papers import Content, Paper, PaperFile
from shopledger.model.people import Person
from shopledger.model.record import Record, asked_of, field_of, fields_of
from shopledger.model.sales import Consent, LineCost, LineEntry, LineOwner, LineReferral, Sale, SaleLine
from shopledger.model.shop import Counter, DatedRate, Shop
from shopledger.model.stays import Custody, Hold, Loss, Stay

__all__ = [
    "Account",
    "Agreement",
    "Bracket",
    "Change",
    "ChangeValue",
    "Charge",
    "Consent",
    "Content",
    "Counter",
    "Custody",
    "DatedRate",
    "Deed",
    "Entry",
    "FeePayment",
    "Fitting",
    "Hold",
    "Instrument",
    "LineCost",
    "LineEntry",
    "LineOwner",
    "LineReferral",
    "Loss",
    "Measurement",
    "Ownership",
    "OwnershipShare",
    "Paper",
    "PaperFile",
    "Payment",
    "PaymentShare",
    "Payout",
    "PayoutShare",
    "Person",
    "Picture",
    "Posting",
    "PriceChange",
    "Record",
    "Refund",
    "RefundShare",
    "Sale",
    "SaleLine",
    "Seal",
    "Search",
    "Settlement",
    "SettlementShare",
    "Shop",
    "Signature",
    "Stay",
    "Terms",
    "TermsOwner",
    "asked_of",
    "field_of",
    "fields_of",
]
