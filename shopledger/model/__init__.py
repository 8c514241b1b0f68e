"""What the ledger keeps: the mapped records and their field declarations.

Mapping them all takes as long as opening the window, so a record's module is imported when the record is first asked
for. `tables()` maps them all, for whoever writes or goes through everything there is.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from sqlalchemy import MetaData

from shopledger.model.record import Record as Record
from shopledger.model.record import asked_of as asked_of
from shopledger.model.record import field_of as field_of
from shopledger.model.record import fields_of as fields_of
from shopledger.model.record import say_conditions_to_postgresql

# A record stands twice: here for whoever checks types, and below for whoever runs. A test compares the two.
if TYPE_CHECKING:
    from shopledger.model.agreements import Agreement as Agreement
    from shopledger.model.agreements import Bracket as Bracket
    from shopledger.model.agreements import PriceChange as PriceChange
    from shopledger.model.agreements import Terms as Terms
    from shopledger.model.away import Damage as Damage
    from shopledger.model.away import Placing as Placing
    from shopledger.model.away import Shipment as Shipment
    from shopledger.model.away import ShipmentLine as ShipmentLine
    from shopledger.model.away import StockTake as StockTake
    from shopledger.model.away import StockTakeLine as StockTakeLine
    from shopledger.model.away import Valuation as Valuation
    from shopledger.model.changes import Change as Change
    from shopledger.model.changes import ChangeValue as ChangeValue
    from shopledger.model.changes import Deed as Deed
    from shopledger.model.changes import Search as Search
    from shopledger.model.condition import ConditionMark as ConditionMark
    from shopledger.model.condition import ConditionReport as ConditionReport
    from shopledger.model.fitted import Fitting as Fitting
    from shopledger.model.fitted import Measurement as Measurement
    from shopledger.model.fitted import Picture as Picture
    from shopledger.model.goods import Goods as Goods
    from shopledger.model.goods import GoodsIn as GoodsIn
    from shopledger.model.goods import GoodsOut as GoodsOut
    from shopledger.model.housekeeping import Counter as Counter
    from shopledger.model.housekeeping import DatedRate as DatedRate
    from shopledger.model.housekeeping import SafeCopy as SafeCopy
    from shopledger.model.instruments import Instrument as Instrument
    from shopledger.model.instruments import Ownership as Ownership
    from shopledger.model.instruments import OwnershipShare as OwnershipShare
    from shopledger.model.jobs import Approval as Approval
    from shopledger.model.jobs import Estimate as Estimate
    from shopledger.model.jobs import EstimateLine as EstimateLine
    from shopledger.model.jobs import Job as Job
    from shopledger.model.jobs import JobBill as JobBill
    from shopledger.model.jobs import JobBillLine as JobBillLine
    from shopledger.model.jobs import JobNote as JobNote
    from shopledger.model.jobs import JobService as JobService
    from shopledger.model.jobs import LienSale as LienSale
    from shopledger.model.jobs import Reminder as Reminder
    from shopledger.model.jobs import SetupString as SetupString
    from shopledger.model.jobs import WorkItem as WorkItem
    from shopledger.model.jobs import WorkTime as WorkTime
    from shopledger.model.journal import Account as Account
    from shopledger.model.journal import Entry as Entry
    from shopledger.model.journal import Posting as Posting
    from shopledger.model.journal import Seal as Seal
    from shopledger.model.losses import Loss as Loss
    from shopledger.model.materials import Component as Component
    from shopledger.model.materials import ComponentEvidence as ComponentEvidence
    from shopledger.model.money import Charge as Charge
    from shopledger.model.money import FeePayment as FeePayment
    from shopledger.model.money import Payment as Payment
    from shopledger.model.money import PaymentShare as PaymentShare
    from shopledger.model.money import Payout as Payout
    from shopledger.model.money import PayoutShare as PayoutShare
    from shopledger.model.money import Refund as Refund
    from shopledger.model.money import RefundShare as RefundShare
    from shopledger.model.money import Settlement as Settlement
    from shopledger.model.money import SettlementShare as SettlementShare
    from shopledger.model.papers import Content as Content
    from shopledger.model.papers import Paper as Paper
    from shopledger.model.papers import PaperFile as PaperFile
    from shopledger.model.parties import Signature as Signature
    from shopledger.model.parties import TermsOwner as TermsOwner
    from shopledger.model.people import Person as Person
    from shopledger.model.sales import Consent as Consent
    from shopledger.model.sales import LineCost as LineCost
    from shopledger.model.sales import LineEntry as LineEntry
    from shopledger.model.sales import LineOwner as LineOwner
    from shopledger.model.sales import LineReferral as LineReferral
    from shopledger.model.sales import Sale as Sale
    from shopledger.model.sales import SaleLine as SaleLine
    from shopledger.model.shop import Shop as Shop
    from shopledger.model.stays import Custody as Custody
    from shopledger.model.stays import Hold as Hold
    from shopledger.model.stays import Stay as Stay
    from shopledger.model.trials import Trial as Trial
    from shopledger.model.trials import TrialExtension as TrialExtension
    from shopledger.model.trials import TrialLine as TrialLine
    from shopledger.model.trials import TrialReminder as TrialReminder
    from shopledger.model.wanted import Wish as Wish
    from shopledger.model.wanted import WishCriterion as WishCriterion
    from shopledger.model.wanted import WishTold as WishTold

RECORDS: dict[str, tuple[str, ...]] = {
    "agreements": ("Agreement", "Bracket", "PriceChange", "Terms"),
    "away": ("Damage", "Placing", "Shipment", "ShipmentLine", "StockTake", "StockTakeLine", "Valuation"),
    "changes": ("Change", "ChangeValue", "Deed", "Search"),
    "condition": ("ConditionMark", "ConditionReport"),
    "fitted": ("Fitting", "Measurement", "Picture"),
    "goods": ("Goods", "GoodsIn", "GoodsOut"),
    "housekeeping": ("Counter", "DatedRate", "SafeCopy"),
    "instruments": ("Instrument", "Ownership", "OwnershipShare"),
    "jobs": ("Approval", "Estimate", "EstimateLine", "Job", "JobBill", "JobBillLine", "JobNote", "JobService",
             "LienSale", "Reminder", "SetupString", "WorkItem", "WorkTime"),
    "journal": ("Account", "Entry", "Posting", "Seal"),
    "losses": ("Loss",),
    "materials": ("Component", "ComponentEvidence"),
    "money": ("Charge", "FeePayment", "Payment", "PaymentShare", "Payout", "PayoutShare", "Refund", "RefundShare",
              "Settlement", "SettlementShare"),
    "papers": ("Content", "Paper", "PaperFile"),
    "parties": ("Signature", "TermsOwner"),
    "people": ("Person",),
    "sales": ("Consent", "LineCost", "LineEntry", "LineOwner", "LineReferral", "Sale", "SaleLine"),
    "shop": ("Shop",),
    "stays": ("Custody", "Hold", "Stay"),
    "trials": ("Trial", "TrialExtension", "TrialLine", "TrialReminder"),
    "wanted": ("Wish", "WishCriterion", "WishTold"),
}  # fmt: skip
"""The records of this room by the module that maps them."""

_MODULE_OF = {name: module for module, names in RECORDS.items() for name in names}


def tables(dialect: str = "sqlite") -> MetaData:
    """Give the tables of all records, each mapped, as a dialect takes them.

    SQLAlchemy needs that before a session writes, since it sorts the tables by what they refer to.
    """
    for module in RECORDS:
        import_module(f"{__name__}.{module}")
    if dialect == "postgresql":
        say_conditions_to_postgresql()
    return Record.metadata


# Not seen by a checker of types: it would let any name pass.
if not TYPE_CHECKING:

    def __getattr__(name: str) -> type[Record]:
        """Give a record, its module imported now."""
        if name not in _MODULE_OF:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        found = getattr(import_module(f"{__name__}.{_MODULE_OF[name]}"), name)
        globals()[name] = found
        return found
