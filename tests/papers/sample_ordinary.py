"""An ordinary paper of every kind."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from shopledger.papers.account_sales import AccountSalesFacts
from shopledger.papers.addendum import AddendumFacts, ChangeLine
from shopledger.papers.agreement import AgreementFacts
from shopledger.papers.bill_of_sale import BillOfSaleFacts
from shopledger.papers.charge_note import ChargeNoteFacts
from shopledger.papers.credit_note import CreditNoteFacts
from shopledger.papers.fee_note import FeeNoteFacts
from shopledger.papers.forfeit_note import ForfeitNoteFacts
from shopledger.papers.handover_list import HandoverListFacts
from shopledger.papers.intake import IntakeFacts, TitleFacts
from shopledger.papers.invoice import InvoiceFacts
from shopledger.papers.loss_report import LossReportFacts
from shopledger.papers.parts import (
    AmountLine,
    CautionFacts,
    OwnerFacts,
    PaperFacts,
    PartyFacts,
    PaymentLine,
    ShopFacts,
    TaxFacts,
    WorkingLine,
)
from shopledger.papers.payment_receipt import PaymentReceiptFacts
from shopledger.papers.referral import ReferralFacts
from shopledger.papers.refund_receipt import RefundReceiptFacts
from shopledger.papers.release import ReleaseFacts
from shopledger.papers.remittance import RemittanceFacts
from tests.papers.sample_things import (
    BUYER,
    GAMBA,
    GAMBA_LINE,
    OWNER,
    SALE_WORKING,
    SHOP,
    TERMS,
    WORKING,
    every_paper,
    held_line,
    property_line,
    usd,
)


def ordinary(shop: ShopFacts = SHOP) -> dict[str, PaperFacts]:
    """Give an ordinary paper of every kind, by the kind's name."""
    owner = (OwnerFacts(party=OWNER),)
    return {
        "agreement": AgreementFacts(
            **every_paper("AG 2026-014", shop),
            agreed_on=date(2026, 3, 4),
            owners=owner,
            instrument=GAMBA,
            entry_number="TI 2026-031",
            terms=TERMS,
            example=WORKING,
            example_net=usd("9420.00"),
            cautions=CautionFacts(filing="may_be_met"),
        ),
        "addendum": AddendumFacts(
            **every_paper("AG 2026-014/2", shop),
            agreement_number="AG 2026-014",
            agreement_on=date(2026, 3, 4),
            nth=2,
            effective_on=date(2026, 6, 1),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            changes=(
                ChangeLine(what="Asking price", before="USD 12,000.00", after="USD 11,400.00"),
                ChangeLine(what="Lowest net to owner", before="USD 8,500.00", after="USD 8,200.00"),
                ChangeLine(what="Trials", before="for up to 10 days", after="for up to 14 days"),
            ),
            reason="Two players found it heavy at the price; owner and shop agreed by letter on 28 May 2026.",
            example=(
                WorkingLine(label="Price", how="the asking price", amount=usd("11400.00")),
                WorkingLine(label="Commission", how="20% of 11,400.00", amount=usd("-2280.00")),
            ),
            example_net=usd("9120.00"),
        ),
        "intake": IntakeFacts(
            **every_paper("TI 2026-031", shop),
            entry_number="TI 2026-031",
            received_on=date(2026, 3, 2),
            brought_by=OWNER,
            owners=owner,
            reason="to sell",
            instrument=GAMBA,
            value_to_insure=usd("9500.00"),
            title=TitleFacts(
                identity_seen="passport",
                identity_seen_on=date(2026, 3, 2),
                authority="own purchase, invoice of 1994 seen",
                no_liens=True,
                register="Stolen instruments, county list",
                register_checked_on=date(2026, 3, 2),
            ),
            pictures=6,
        ),
        "invoice": InvoiceFacts(
            **every_paper("SI 2026-009", shop),
            sold_on=date(2026, 3, 20),
            buyer=BUYER,
            lines=(GAMBA_LINE,),
            tax=TaxFacts(
                scheme="sales_tax",
                label="Sales tax",
                rate=Fraction(825, 10000),
                taxable=usd("11250.00"),
                amount=usd("928.13"),
            ),
            payments=(
                PaymentLine(
                    on=date(2026, 3, 12), what="Deposit", how="card", reference="4471", amount=usd("1000.00")
                ),
                PaymentLine(
                    on=date(2026, 3, 20),
                    what="Payment",
                    how="bank transfer",
                    amount=usd("4000.00"),
                    cleared=False,
                ),
            ),
            total=usd("12178.13"),
            balance=usd("7178.13"),
            due_on=date(2026, 4, 3),
            approval_until=date(2026, 3, 27),
            payment_words=(
                "By transfer to the account 00-114 at the Bank of Port Ellery, naming the invoice.",
            ),
            cautions=CautionFacts(
                materials=(
                    "The bow is of snakewood, which is not listed; its ivory tip was replaced by bone in "
                    "2003.",
                )
            ),
        ),
        "credit_note": CreditNoteFacts(
            **every_paper("CN 2026-002", shop),
            invoice_number="SI 2026-009",
            invoice_on=date(2026, 3, 20),
            returned_on=date(2026, 3, 26),
            buyer=BUYER,
            reason="Returned within the approval time: the string is too long for the player\u2019s hand.",
            lines=(GAMBA_LINE,),
            tax=TaxFacts(
                scheme="sales_tax",
                label="Sales tax",
                rate=Fraction(825, 10000),
                taxable=usd("11250.00"),
                amount=usd("928.13"),
            ),
            total=usd("12178.13"),
            set_against=usd("7178.13"),
            refunds=(
                PaymentLine(on=date(2026, 3, 27), what="Refund", how="bank transfer", amount=usd("5000.00")),
            ),
            balance=usd("0.00"),
        ),
        "bill_of_sale": BillOfSaleFacts(
            **every_paper("BS 2026-009", shop),
            invoice_number="SI 2026-009",
            agreement_number="AG 2026-014",
            sold_on=date(2026, 3, 20),
            sellers=owner,
            buyer=BUYER,
            instrument=GAMBA,
            price=usd("11250.00"),
            approval_until=date(2026, 3, 27),
            warranties=("The seller states that the instrument is theirs to sell.",),
        ),
        "payment_receipt": PaymentReceiptFacts(
            **every_paper("PR 2026-018", shop),
            received_on=date(2026, 3, 20),
            payer=BUYER,
            amount=usd("4000.00"),
            method="bank transfer",
            reference="QUILL 027",
            invoice_number="SI 2026-009",
            applied=(
                AmountLine(
                    what="Bass viola da gamba, six strings", reference="No. 027", amount=usd("4000.00")
                ),
            ),
            invoiced=usd("12178.13"),
            paid_before=usd("1000.00"),
            balance=usd("7178.13"),
        ),
        "refund_receipt": RefundReceiptFacts(
            **every_paper("RF 2026-002", shop),
            paid_on=date(2026, 3, 27),
            payee=BUYER,
            amount=usd("5000.00"),
            method="bank transfer",
            credit_note_number="CN 2026-002",
            invoice_number="SI 2026-009",
            reason="returned within the approval time",
            applied=(
                AmountLine(what="Deposit", on=date(2026, 3, 12), amount=usd("1000.00")),
                AmountLine(what="Payment", on=date(2026, 3, 20), amount=usd("4000.00")),
            ),
            still_owed=usd("0.00"),
        ),
        "referral": ReferralFacts(
            **every_paper("RD 2026-001", shop),
            referrer=PartyFacts(name="Hesper Lune", address=("Conservatory, North Quay",)),
            buyer=BUYER,
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            price=usd("11250.00"),
            rate=Fraction(1, 20),
            fee=usd("562.50"),
            borne_by="both",
            owner_part=usd("281.25"),
            shop_part=usd("281.25"),
            working=(WorkingLine(label="Fee", how="5% of the price 11,250.00", amount=usd("562.50")),),
            relation="The referrer teaches the buyer and is not related to the shop.",
        ),
        "account_sales": AccountSalesFacts(
            **every_paper("AS 2026-009", shop),
            agreement_number="AG 2026-014",
            agreement_on=date(2026, 3, 4),
            invoice_number="SI 2026-009",
            sold_on=date(2026, 3, 20),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            asking=usd("12000.00"),
            price=usd("11250.00"),
            working=SALE_WORKING,
            owner_net=usd("8820.00"),
            set_offs=(
                AmountLine(
                    on=date(2026, 3, 10), what="Valuation", reference="CH 2026-003", amount=usd("120.00")
                ),
            ),
            payouts=(
                AmountLine(
                    on=date(2026, 3, 30), what="Payout", reference="RM 2026-007", amount=usd("4000.00")
                ),
            ),
            balance=usd("4700.00"),
            due_on=date(2026, 4, 19),
            due_words="The rest waits for the last of the buyer\u2019s money to clear.",
            floor=usd("8500.00"),
            floor_words="The net is above it.",
        ),
        "remittance": RemittanceFacts(
            **every_paper("RM 2026-007", shop),
            paid_on=date(2026, 3, 30),
            owner=OWNER,
            amount=usd("8700.00"),
            method="bank transfer",
            reference="AS 2026-009",
            destination="account ending 41",
            lines=(
                AmountLine(
                    on=date(2026, 3, 20),
                    what="Net of the sale",
                    reference="AS 2026-009",
                    how=GAMBA.name,
                    amount=usd("8820.00"),
                ),
                AmountLine(
                    on=date(2026, 3, 10),
                    what="Set off: valuation",
                    reference="CH 2026-003",
                    amount=usd("-120.00"),
                ),
            ),
            still_held=usd("0.00"),
        ),
        "charge_note": ChargeNoteFacts(
            **every_paper("CH 2026-003", shop),
            act="storage",
            booked_on=date(2026, 3, 10),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            agreement_number="AG 2026-014",
            lines=(WorkingLine(label="Storage", how="3 months at 20.00", amount=usd("60.00")),),
            total=usd("60.00"),
            by_words="For storage: USD 20.00 a month, from 365 days after taking in.",
            set_off=True,
            balance_after=usd("-60.00"),
        ),
        "loss_report": LossReportFacts(
            **every_paper("LD 2026-001", shop),
            lost_on=date(2026, 7, 2),
            owners=owner,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            entry_number="TI 2026-031",
            taken_in_on=date(2026, 3, 2),
            agreement_number="AG 2026-014",
            what_happened="A pipe burst over the rack at night; its case stood in water.",
            reported_to="Harbour Mutual, claim 7-214",
            agreed_value=usd("9500.00"),
            excess=usd("500.00"),
            excess_borne_by="owner",
            claimed=usd("9000.00"),
            working=(
                WorkingLine(label="Agreed value", how="by the agreement", amount=usd("9500.00")),
                WorkingLine(label="Excess", how="borne by the owner", amount=usd("-500.00")),
            ),
            held=usd("9000.00"),
            by_words=("If the instrument is lost, the shop holds the agreed value for the owner.",),
        ),
        "fee_note": FeeNoteFacts(
            **every_paper("FP 2026-001", shop),
            paid_on=date(2026, 3, 30),
            payee=PartyFacts(name="Hesper Lune", number="P 014", address=("4 Rope Street", "Saltmere")),
            amount=usd("500.00"),
            method="bank transfer",
            reference="the gamba",
            lines=(
                AmountLine(
                    on=date(2026, 3, 14),
                    what=GAMBA.name,
                    reference="SI 2026-021",
                    how="for bringing the buyer",
                    amount=usd("500.00"),
                ),
            ),
            still_owed=usd("62.50"),
        ),
        "forfeit_note": ForfeitNoteFacts(
            **every_paper("DF 2026-001", shop),
            forfeited_on=date(2026, 6, 23),
            player=BUYER,
            instrument_number="No. 027",
            instrument_name=GAMBA.name,
            held_since=date(2026, 5, 12),
            held_until=date(2026, 6, 12),
            deposit_number="PR 2026-018",
            agreement_number="AG 2026-014",
            why="Not heard of again.",
            deposit=usd("150.00"),
            working=(
                WorkingLine(label="To the owner", how="50%", amount=usd("75.00")),
                WorkingLine(label="To the shop", how="25%", amount=usd("37.50")),
                WorkingLine(label="Back to the player", how="the rest", amount=usd("37.50")),
            ),
            goes_back=usd("37.50"),
            by_words="Of a deposit that a buyer forfeits the owner has 50% and the shop 25%.",
        ),
        "release": ReleaseFacts(
            **every_paper("RL 2026-004", shop),
            entry_number="TI 2026-031",
            taken_in_on=date(2026, 3, 2),
            handed_over_on=date(2026, 9, 14),
            to=OWNER,
            owners=owner,
            instrument=GAMBA,
            agreement_number="AG 2026-014",
            reason="The owner takes it back; the agreement ended on 14 Sep 2026.",
            open_charges=(
                AmountLine(
                    on=date(2026, 9, 14),
                    what="Taking back before the term is over",
                    reference="CH 2026-011",
                    amount=usd("150.00"),
                ),
            ),
            open_total=usd("150.00"),
        ),
        "handover_list": HandoverListFacts(
            **every_paper("HL 2026-001", shop),
            as_of=date(2026, 3, 4),
            property=tuple(property_line(n) for n in range(5)),
            value_total=sum((line.value for line in map(property_line, range(5)) if line.value), usd("0")),
            money=tuple(held_line(n) for n in range(3)),
            held_total=sum((held_line(n).held for n in range(3)), usd("0")),
            bank=usd("31250.40"),
            where_papers=(
                "The ledger is on the computer in the workshop; a copy of every night lies on the drive in "
                "the desk.",
                "Signed agreements are in the grey cabinet, by number.",
            ),
            contact=("Jory Tamblyn, book-keeper, 555-0177", "Perran Voss, lawyer, 555-0178"),
        ),
    }
