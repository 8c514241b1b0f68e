"""A paper is shown before it is issued: drawn from an act that is done and taken back, so that nothing is written."""

from __future__ import annotations

import hashlib
from datetime import date, timedelta
from fractions import Fraction
from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from reportlab.lib.units import mm
from sqlalchemy import inspect, select, text

from shopledger import acts
from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.conditions import MarkRow
from shopledger.acts.describing import MeasureRow
from shopledger.acts.doing import would_leave
from shopledger.acts.estimating_forms import EstimateRow
from shopledger.acts.papers import PaperDraft, draw_draft, title_of_draft
from shopledger.acts.selling_forms import CostRow, PartExchangeRow
from shopledger.model import Deed, Paper, Payment
from shopledger.papers import style
from shopledger.papers.letterhead import not_issued
from shopledger.papers.registry import KINDS
from shopledger.quantities.errors import Refused, Typed
from shopledger.quantities.lengths import read_length
from shopledger.queries.papers import paper_bytes
from tests.helpers import away, trials
from tests.helpers.shops import FIRST_DAY, TriedShop, eur, row
from tests.papers.reading_back import bodies_of, codes_of, pages_of
from tests.papers.samples import long, rendered

ACROSS = "Not issued"


def everything(shop: TriedShop) -> dict[str, str]:
    """Give a digest of every table of the ledger, counters, deeds and papers among them, and of the files it names."""
    engine = shop.ledger.engine
    found = {}
    with engine.connect() as connection:
        for table in inspect(engine).get_table_names():
            rows = sorted(repr(tuple(row)) for row in connection.execute(text(f'SELECT * FROM "{table}"')))
            found[table] = hashlib.sha256("\n".join(rows).encode()).hexdigest()
    found["files"] = " ".join(shop.ledger.files.names())
    assert {"counter", "deed", "paper", "entry", "posting", "seal"} <= set(found)
    return found


def drafted(shop: TriedShop, name: str, **inputs: Any) -> tuple[PaperDraft, ...]:
    return would_leave(shop.ledger, acts.act(name), shop.form(name, **inputs))


def photograph() -> bytes:
    out = BytesIO()
    Image.new("RGB", (40, 30), "white").save(out, "PNG")
    return out.getvalue()


def body(content: bytes) -> list[str]:
    """Give what stands between the foot of each page and the line over its head."""
    return bodies_of(content, style.FOOT, 11 * mm)


def without_mark(content: bytes) -> list[str]:
    return [" ".join(page.replace(ACROSS, "", 1).split()) for page in body(content)]


def sale_with_everything(shop: TriedShop, instrument: int) -> dict[str, Any]:
    return {
        "buyer_id": shop.buyer,
        "lines": (shop.line(instrument),),
        "referrer_id": shop.dealer,
        "referral_rate": Fraction(1, 50),
        "told_buyer_on": FIRST_DAY,
        "told_owner_on": FIRST_DAY,
        "part_exchange": (PartExchangeRow(kind="bow", description="a bow", allowance=eur("50.00")),),
    }


def test_a_paper_is_drawn_beforehand_and_nothing_is_written(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    given = sale_with_everything(shop, instrument)
    before = everything(shop)
    drafts = drafted(shop, "sell", **given)
    pages = [draw_draft(draft) for draft in drafts]
    assert everything(shop) == before
    assert [draft.kind for draft in drafts] == ["invoice", "bill_of_sale", "referral", "intake"]
    assert all(content.startswith(b"%PDF") for content in pages)
    # The numbers that were shown were not used up: the act that is done now has them.
    outcome = shop.with_papers("sell", **given)
    with shop.ledger.read() as reading:
        issued = [reading.session.get_one(Paper, key) for key in outcome.papers]
        assert [(one.kind, one.number) for one in issued] == [(one.kind, one.number) for one in drafts]
    # Between head and foot each says the same, but for the mark across it.
    for content, key in zip(pages, outcome.papers, strict=True):
        assert without_mark(content) == body(paper_bytes(shop.ledger, key))


def test_the_same_form_is_done_after_it_was_shown_and_then_shown_no_more(shop: TriedShop) -> None:
    form = shop.form("sell", buyer_id=shop.buyer, lines=(shop.line(shop.consigned()),))
    sell = acts.act("sell")
    assert would_leave(shop.ledger, sell, form) == would_leave(shop.ledger, sell, form)
    acts.do(shop.ledger, sell, form)
    with pytest.raises(Refused, match="done and booked already"):
        would_leave(shop.ledger, sell, form)


def test_what_is_refused_is_refused_beforehand_at_the_same_input(any_shop: TriedShop) -> None:
    shop = any_shop
    instrument = shop.consigned()
    before = everything(shop)
    # The allowance is refused late, after the invoice had its number and its lines were booked.
    exchanged = (PartExchangeRow(kind="violin", description="x", allowance=eur("20000.00")),)
    with pytest.raises(Refused) as refused:
        drafted(shop, "sell", buyer_id=shop.buyer, lines=(shop.line(instrument),), part_exchange=exchanged)
    assert refused.value.field == "part_exchange[0].allowance"
    with pytest.raises(Typed, match="has not come yet"):
        drafted(
            shop, "end_agreement", instrument_id=instrument, how="given_up", on=shop.today + timedelta(days=1)
        )
    assert everything(shop) == before


def test_files_of_an_act_that_is_only_shown_are_kept_nowhere(any_shop: TriedShop) -> None:
    shop = any_shop
    given: dict[str, Any] = {
        "instrument": {"kind": "viola", "description": "a viola"},
        "stay": {"reason": "to_sell"},
        "owners": (row(shop.owner),),
        "pictures": (photograph(),),
    }
    before = everything(shop)
    assert [one.kind for one in drafted(shop, "take_in", **given)] == ["intake"]
    instrument = shop.taken_in()
    after = everything(shop)
    terms = {"ends_on": date(2027, 3, 1), "asking": eur("900.00"), "commission_rate": Fraction(1, 5)}
    signed = {"signed_by": "Orla Fenn", "scan": photograph()}
    agreed = drafted(shop, "agree_terms", instrument_id=instrument, terms=terms, **signed)
    assert [one.kind for one in agreed] == ["agreement"]
    assert everything(shop) == after
    assert before["files"] == after["files"]


def test_every_page_says_that_it_is_not_issued_and_bears_no_code() -> None:
    for kind, facts in long().items():
        content = rendered(kind, facts, issued=False)
        for page in pages_of(content):
            assert not_issued() in page, kind
            assert ACROSS in page.replace(not_issued(), ""), kind
            assert "not issued" in page, kind
            assert "SHA-256 of the facts" not in page, kind
        assert codes_of(content) == [], kind
        assert len(pages_of(content)) == len(pages_of(rendered(kind, facts))), kind
        assert not_issued() not in " ".join(pages_of(rendered(kind, facts)))


def test_the_title_of_a_draft_is_that_of_its_kind(shop: TriedShop) -> None:
    drafts = drafted(shop, "sell", buyer_id=shop.buyer, lines=(shop.line(shop.consigned()),))
    assert [title_of_draft(one) for one in drafts] == ["Invoice", "Bill of sale"]


def leave_every_paper(shop: TriedShop) -> None:
    """Do every act that leaves a paper, so that each kind it may leave is left once."""
    # Sold below what it cost and taken back after the owner paid the rest: they have that to have back.
    dear = shop.sold(
        shop.consigned("100.00"), "100.00", costs=(CostRow(what="new neck", amount=eur("150.00")),)
    )
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("70.00"))
    shop.act("take_back", sale_id=dear, why="wolf note")
    shop.act("pay_credit", person_id=shop.owner, amount=eur("70.00"))
    told = {"told_buyer_on": FIRST_DAY, "told_owner_on": FIRST_DAY}
    referred = shop.sold(shop.consigned(), referrer_id=shop.player, referral_fixed=eur("400.00"), **told)
    shop.act("pay_fee", person_id=shop.player, amount=eur("150.00"))
    shop.act("take_back", sale_id=referred, why="wolf note")
    shop.act("take_fee_back", person_id=shop.player, amount=eur("150.00"))
    kept = shop.consigned(deposit_to_owner=Fraction(1, 2), deposit_to_shop=Fraction(1, 4))
    until = shop.today + timedelta(days=9)
    shop.act(
        "hold", instrument_id=kept, person_id=shop.player, until=until, deposit=eur("100.00"), cleared=True
    )
    shop.act("end_hold", instrument_id=kept, deposit="forfeit", why="stayed away")

    instrument, sale = shop.settled()
    shop.act("pay_owner", person_id=shop.owner, amount=eur("8000.00"))
    shop.act("hand_over", instrument_id=instrument, handed_to="Tam Brine")
    # Taken back after its owner was paid, who owes that now.
    shop.act("take_back", sale_id=sale, why="wolf note")
    shop.act("take_owners_payment", person_id=shop.owner, amount=eur("10.00"))

    reduced = shop.sold(shop.consigned())
    shop.pay(reduced)
    shop.act("reduce_price", sale_id=reduced, price=eur("9900.00"), why="a crack")
    shop.act("give_back", sale_id=reduced, amount=eur("100.00"))

    held = shop.consigned()
    hold = {"instrument_id": held, "person_id": shop.player, "until": shop.today + timedelta(days=9)}
    shop.act("hold", **hold, deposit=eur("100.00"), cleared=True)
    shop.act("end_hold", instrument_id=held, why="no longer wanted")
    shop.act("hold", **{**hold, "person_id": shop.buyer}, deposit=eur("9990.00"), cleared=True)
    # What of the deposit is above the price goes back with the sale.
    sold = shop.sold(
        held, "9000.00", **{**sale_with_everything(shop, held), "lines": (shop.line(held, "9000.00"),)}
    )
    with shop.ledger.read() as reading:
        exchanged = reading.session.scalars(
            select(Payment.number).where(Payment.sale_id == sold, Payment.method == "part_exchange")
        ).one()
    shop.act("bounce_payment", sale_id=sold, number=exchanged)

    further = shop.consigned()
    shop.act("add_addendum", instrument_id=further, terms={"ends_on": date(2028, 1, 1)})
    shop.act("renew", instrument_id=further, ends_on=date(2029, 1, 1))
    shop.act("change_owner", instrument_id=further, owners=(row(shop.other),), how="given, letter seen")
    shop.act("return_to_owner", instrument_id=further, handed_to="Ivo Marsh")
    back = {"owners": (row(shop.other),), "stay": {"reason": "to_sell"}}
    shop.act("take_in_again", instrument_id=further, **back)

    ended = shop.consigned(withdrawal_charge=eur("50.00"))
    shop.act("charge_owner", instrument_id=ended, kind="withdrawal")
    shop.act("end_agreement", instrument_id=ended, how="given_up", why="no room")
    lost = shop.consigned("900.00")
    shop.act("report_loss", instrument_id=lost, what_happened="fire", agreed_value=eur("900.00"))
    shop.act("claim_paid", instrument_id=lost, amount=eur("900.00"), person_id=shop.dealer)
    shop.act("settle_loss", instrument_id=lost)
    shop.act("list_others")
    shop.act("print_custody_list", as_of=shop.today)
    shop.act("end_count", stock_take_id=shop.act("begin_count").id)

    leave_every_paper_of_work(shop)


def leave_every_paper_of_work(shop: TriedShop) -> None:
    """Do what leaves the papers of the workshop."""
    seen = shop.taken_in(reason="repair")
    shop.act("make_report", instrument_id=seen, overall="sound")
    given: dict[str, Any] = {
        "hears": "a buzz",
        "deposit": eur("20.00"),
        "marks": (MarkRow(part="top", term="crack"),),
    }
    job = shop.act("open_job_here", instrument_id=seen, client_id=shop.owner, **given).id
    height = MeasureRow(measure="bridge_height", value=read_length("90 mm"))
    shop.act("record_setup", job_id=job, stage="after", measures=(height,))
    shop.act("print_measures", instrument_id=seen)
    left = shop.act(
        "open_job", client={"name": "Wil Dray"}, instrument={"kind": "viola_da_gamba"}, **given
    ).id
    shop.act("report_job_condition", job_id=left, overall="sound")
    frets = EstimateRow(what="New frets", amount=eur("60.00"))
    shop.act("estimate_job", job_id=left, lines=(frets,), hourly_rate=eur("80.00"))
    leave_every_paper_of_bills(shop, job, left)
    leave_every_paper_of_trials(shop)
    leave_every_paper_of_what_is_elsewhere(shop)


def leave_every_paper_of_what_is_elsewhere(shop: TriedShop) -> None:
    """Place with another dealer, for longer, and send there; value, and record damage and the end of its claim."""
    cello = away.may_go(shop)
    away.placing(shop, cello)
    shop.act("extend_placing", instrument_id=cello, until=shop.today + timedelta(days=90))
    away.sending(shop, "dealer", shop.dealer, cello)
    sold = shop.consigned()
    shop.sold(sold)
    away.sending(shop, "sale", shop.buyer, sold, unpaid=True)
    shop.act("arrived", instrument_id=sold)
    own = shop.own()
    valued = {
        "value": eur("900.00"),
        "purpose": "insurance",
        "valued_by": "the maker",
        "valued_on": shop.today,
    }
    shop.act("record_valuation", instrument_id=own, valuation=valued)
    shop.act("record_damage", instrument_id=own, damage={"found_on": shop.today, "what_happened": "It fell."})
    shop.act("close_claim", instrument_id=own, damage="DM 2026-001", outcome="Glued by the maker.")


def leave_every_paper_of_trials(shop: TriedShop) -> None:
    """Lend, extend, remind, take back, sell what is kept, lose one, and let deposits come and go."""
    marks = (MarkRow(part="top", term="scratch"),)
    cello = shop.consigned(
        trials_allowed=True, deposit_to_owner=Fraction(1, 2), deposit_to_shop=Fraction(1, 4)
    )
    lent = trials.lent(shop, trials.row(cello), marks=marks, deposit=eur("50.00"), cleared=True)
    later = shop.today + timedelta(days=21)
    shop.act("extend_trial", trial_id=lent, due_on=later, agreed_by="Ida Skerry")
    shop.pass_days(15)
    shop.act("remind_of_trial", trial_id=lent)
    shop.act("take_trial_back", trial_id=lent, marks=marks)
    shop.act("forfeit_trial_deposit", trial_id=lent, line=1, amount=eur("40.00"), why="a scratch")
    shop.act("take_trial_deposit", trial_id=trials.lent(shop, trials.row(cello)), amount=eur("50.00"))

    instrument = trials.bow(shop)
    given = shop.act(
        "lend_to", trial={"person_id": shop.player, "due_on": later}, lines=(trials.row(instrument, "900.00"),),
        deposit=eur("20.00"), cleared=True, marks=(MarkRow(part="frog", term="wear"),),
    ).id  # fmt: skip
    shop.act("give_trial_deposit_back", trial_id=given)
    wish = shop.act("note_wish", wish={"person_id": shop.player, "kind": "bow"}).id
    shop.act("tell_of_matches", wish_id=wish)
    shop.act("state_materials", instrument_id=instrument, act_on=shop.today)


def leave_every_paper_of_bills(shop: TriedShop, own: int, left: int) -> None:
    """Bill, take back, collect, return, remind and sell what nobody fetched."""

    def done(job: int, amount: str, **inputs: Any) -> int:
        shop.act("put_on_bench", job_id=job)
        shop.act("mark_ready", job_id=job)
        lines = (WorkRow(kind="labour", what="Seam", amount=eur(amount)),)
        shop.act("bill_job", job_id=job, lines=lines, **inputs)
        return job

    def another(**given: Any) -> int:
        cello = {"instrument": {"kind": "cello"}, "hears": "a buzz"}
        return shop.act("open_job", client_id=shop.player, **cello, **given).id

    consigned = shop.consigned(repairs_allowed=True, repairs_up_to=eur("200.00"))
    charged = shop.act(
        "open_job_here", instrument_id=consigned, client_id=shop.owner, bill_to="owner", hears="dull"
    ).id
    done(charged, "80.00", bill_to="owner")
    shop.act("take_back_bill", job_id=charged, why="done for nothing")

    # The deposit is above the bill, so that some of it goes back; taken back, the bill leaves a credit note.
    shop.act("clear_job_deposit", job_id=left)
    shop.act("approve_job", job_id=left, given_by="Wil Dray", up_to=eur("15.00"))
    done(left, "15.00")
    shop.act("take_back_bill", job_id=left, why="the wrong amount")

    shop.act("clear_job_deposit", job_id=own)
    shop.act("give_job_deposit_back", job_id=own)
    shop.act("take_job_deposit", job_id=own, amount=eur("5.00"), cleared=True)
    shop.act("decline_job", job_id=own, given_by="Orla Fenn")
    shop.act("return_declined", job_id=own, handed_to="Orla Fenn")

    fetched = another()
    shop.act("approve_job", job_id=fetched, given_by="Ida Skerry", up_to=eur("80.00"))
    done(fetched, "80.00")
    shop.act("collect_job", job_id=fetched, handed_to="Ida Skerry", amount=eur("80.00"))

    forgotten = another()
    shop.act("approve_job", job_id=forgotten, given_by="Ida Skerry", up_to=eur("80.00"))
    done(forgotten, "80.00")
    shop.pass_days(31)
    shop.act("remind", job_id=forgotten)
    shop.act(
        "sell_for_lien", job_id=forgotten, price=eur("90.00"), sold_to="Tam Brine", by_what_right="ordinance"
    )


def test_what_an_act_declares_that_it_leaves_is_what_it_leaves(shop: TriedShop) -> None:
    for one in acts.ALL:
        assert set(one.papers) <= set(KINDS), one.name
    leave_every_paper(shop)
    with shop.ledger.read() as reading:
        rows = reading.session.execute(
            select(Deed.act, Paper.kind).join(Deed, Deed.op_id == Paper.op_id).distinct()
        )
        left = {(acts.act(name).run.__name__, kind) for name, kind in rows}
    # Two acts may do the same from different beginnings, as taking in and taking in again.
    assert left == {(one.run.__name__, kind) for one in acts.ALL for kind in one.papers}
