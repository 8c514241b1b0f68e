"""A paper of every kind with nothing in it that may be left out."""

from __future__ import annotations

from datetime import date

from shopledger.papers.account_sales import AccountSalesFacts
from shopledger.papers.addendum import AddendumFacts
from shopledger.papers.agreement import AgreementFacts
from shopledger.papers.bill_of_sale import BillOfSaleFacts
from shopledger.papers.charge_note import ChargeNoteFacts
from shopledger.papers.credit_note import CreditNoteFacts
from shopledger.papers.fee_note import FeeNoteFacts
from shopledger.papers.forfeit_note import ForfeitNoteFacts
from shopledger.papers.handover_list import HandoverListFacts
from shopledger.papers.intake import IntakeFacts
from shopledger.papers.invoice import InvoiceFacts
from shopledger.papers.loss_report import LossReportFacts
from shopledger.papers.parts import (
    CommissionFacts,
    GoodsLine,
    InstrumentFacts,
    OwnerFacts,
    PaperFacts,
    PartyFacts,
    ShopFacts,
    TermsFacts,
    WorkingLine,
)
from shopledger.papers.payment_receipt import PaymentReceiptFacts
from shopledger.papers.referral import ReferralFacts
from shopledger.papers.refund_receipt import RefundReceiptFacts
from shopledger.papers.release import ReleaseFacts
from shopledger.papers.remittance import RemittanceFacts
from tests.papers.sample_things import (
    usd,
)


def empty(shop: ShopFacts | None = None) -> dict[str, PaperFacts]:
    """Give papers with nothing in them that may be left out."""
    bare = shop or ShopFacts(name="Fenwright")
    someone = PartyFacts(name="Someone")
    owners = (OwnerFacts(party=someone),)
    thing = InstrumentFacts(number="No. 001", name="Bow")
    terms = TermsFacts(
        asking=usd("900.00"),
        commission=CommissionFacts(net_to_owner=usd("700.00")),
        begins_on=date(2026, 1, 1),
        ends_on=date(2026, 12, 31),
        notice_days=0,
        insured_by="nobody",
        trials_allowed=False,
    )
    line = GoodsLine(kind="own", what="Bow", price=usd("900.00"), discount=usd("0"), amount=usd("900.00"))
    price = (WorkingLine(label="Price", how="", amount=usd("0")),)
    day = date(2026, 1, 1)
    return {
        "agreement": AgreementFacts(
            number="AG 1",
            issued_on=day,
            shop=bare,
            agreed_on=day,
            owners=owners,
            instrument=thing,
            terms=terms,
            example=price,
            example_net=usd("0"),
        ),
        "addendum": AddendumFacts(
            number="AD 1",
            issued_on=day,
            shop=bare,
            agreement_number="AG 1",
            agreement_on=day,
            nth=1,
            effective_on=day,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
            changes=(),
        ),
        "intake": IntakeFacts(
            number="TI 1",
            issued_on=day,
            shop=bare,
            entry_number="TI 1",
            received_on=day,
            brought_by=someone,
            owners=owners,
            reason="to sell",
            instrument=thing,
        ),
        "invoice": InvoiceFacts(
            number="SI 1",
            issued_on=day,
            shop=bare,
            sold_on=day,
            buyer=someone,
            lines=(line,),
            total=usd("900.00"),
            balance=usd("900.00"),
        ),
        "credit_note": CreditNoteFacts(
            number="CN 1",
            issued_on=day,
            shop=bare,
            invoice_number="SI 1",
            invoice_on=day,
            returned_on=day,
            buyer=someone,
            lines=(line,),
            total=usd("900.00"),
            set_against=usd("0"),
            balance=usd("900.00"),
        ),
        "bill_of_sale": BillOfSaleFacts(
            number="BS 1",
            issued_on=day,
            shop=bare,
            sold_on=day,
            own=True,
            buyer=someone,
            instrument=thing,
            price=usd("900.00"),
        ),
        "payment_receipt": PaymentReceiptFacts(
            number="PR 1",
            issued_on=day,
            shop=bare,
            received_on=day,
            payer=someone,
            amount=usd("1.00"),
            method="cash",
        ),
        "refund_receipt": RefundReceiptFacts(
            number="RF 1",
            issued_on=day,
            shop=bare,
            paid_on=day,
            payee=someone,
            amount=usd("1.00"),
            method="cash",
        ),
        "referral": ReferralFacts(
            number="RD 1",
            issued_on=day,
            shop=bare,
            referrer=someone,
            buyer=someone,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
        ),
        "account_sales": AccountSalesFacts(
            number="AS 1",
            issued_on=day,
            shop=bare,
            agreement_number="AG 1",
            sold_on=day,
            owners=owners,
            instrument_number="No. 001",
            instrument_name="Bow",
            asking=usd("900.00"),
            price=usd("0"),
            working=price,
            owner_net=usd("0"),
            balance=usd("0"),
        ),
        "remittance": RemittanceFacts(
            number="RM 1",
            issued_on=day,
            shop=bare,
            paid_on=day,
            owner=someone,
            amount=usd("0"),
            method="cash",
            lines=(),
        ),
        "charge_note": ChargeNoteFacts(
            number="CH 1",
            issued_on=day,
            shop=bare,
            act="other",
            booked_on=day,
            owners=owners,
            lines=(),
            total=usd("0"),
        ),
        "loss_report": LossReportFacts(
            number="LD 1",
            issued_on=day,
            shop=bare,
            lost_on=day,
            owners=owners,
            instrument_name="Bow",
            what_happened="gone",
            agreed_value=usd("0"),
            excess=usd("0"),
            claimed=usd("0"),
            working=(),
            held=usd("0"),
        ),
        "fee_note": FeeNoteFacts(
            number="FP 1",
            issued_on=day,
            shop=bare,
            paid_on=day,
            payee=someone,
            amount=usd("0"),
            method="cash",
            lines=(),
            still_owed=usd("0"),
        ),
        "forfeit_note": ForfeitNoteFacts(
            number="DF 1",
            issued_on=day,
            shop=bare,
            forfeited_on=day,
            player=someone,
            instrument_name="Bow",
            held_since=day,
            held_until=day,
            deposit=usd("0"),
            working=(),
            goes_back=usd("0"),
        ),
        "release": ReleaseFacts(
            number="RL 1",
            issued_on=day,
            shop=bare,
            entry_number="TI 1",
            handed_over_on=day,
            to=someone,
            owners=owners,
            instrument=thing,
        ),
        "handover_list": HandoverListFacts(
            number="HL 1",
            issued_on=day,
            shop=bare,
            as_of=day,
            property=(),
            value_total=usd("0"),
            money=(),
            held_total=usd("0"),
        ),
    }
