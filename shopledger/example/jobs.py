"""The example's jobs: for clients, owners and the shop, under warranty, declined, left behind, on the bench now."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from shopledger.acts.billing_ready import WorkRow
from shopledger.acts.conditions import MarkRow
from shopledger.acts.describing import MeasureRow
from shopledger.acts.estimating_forms import EstimateRow
from shopledger.acts.setting_up import StringRow
from shopledger.example.pictures import draw
from shopledger.example.telling import Teller, Thread, day, eur
from shopledger.example.workbench import HOURLY, STEEL
from shopledger.quantities.lengths import read_length

SALES_TAX = Fraction(8, 100)

_SETUP = (
    "string_length", "bridge_height", "string_height/bass", "string_height/treble", "spacing_bridge", "afterlength",
    "projection", "soundpost_behind",
)  # fmt: skip


def _estimate(teller: Teller, key: str, *lines: EstimateRow, **more: Any) -> None:
    teller.do(
        "estimate_job", job_id=teller.jobs[key], lines=lines, hourly_rate=HOURLY, tax_rate=SALES_TAX, **more
    )


def _approve(teller: Teller, key: str, by: str, up_to: str, how: str = "telephone", **more: Any) -> None:
    teller.do("approve_job", job_id=teller.jobs[key], given_by=by, up_to=eur(up_to), how=how, **more)


def _listed(teller: Teller, work: str, **more: Any) -> EstimateRow:
    return EstimateRow(work_item_id=teller.work[work], **more)


def _part(teller: Teller, goods: str, quantity: int = 1) -> EstimateRow:
    return EstimateRow(goods_id=teller.goods[goods], kind="part", quantity=quantity)


def _use(teller: Teller, key: str, goods: str, quantity: int = 1) -> None:
    teller.do("use_part", job_id=teller.jobs[key], goods_id=teller.goods[goods], quantity=quantity)


def _time(teller: Teller, key: str, minutes: int, what: str) -> None:
    teller.do("record_time", job_id=teller.jobs[key], minutes=minutes, what=what)


def _ready(teller: Teller, key: str) -> None:
    teller.do("mark_ready", job_id=teller.jobs[key])


def _bill(teller: Teller, key: str, *lines: WorkRow, bill_to: str = "client", **more: Any) -> None:
    rate = SALES_TAX if bill_to == "client" else None
    teller.do("bill_job", job_id=teller.jobs[key], bill_to=bill_to, lines=lines, **{"tax_rate": rate, **more})


def _work(what: str, amount: str, minutes: int | None = None) -> WorkRow:
    return WorkRow(kind="labour", what=what, minutes=minutes, amount=eur(amount))


def _material(what: str, amount: str, quantity: int = 1) -> WorkRow:
    return WorkRow(kind="part", what=what, quantity=quantity, amount=eur(amount))


def _setup(teller: Teller, key: str, stage: str, figures: str, strings: tuple[StringRow, ...] = ()) -> None:
    rows = []
    for name, typed in zip(_SETUP, (part.strip() for part in figures.split(",")), strict=True):
        measure, _slash, side = name.partition("/")
        rows.append(MeasureRow(measure=measure, side=side, value=read_length(typed)))
    teller.do("record_setup", job_id=teller.jobs[key], stage=stage, measures=tuple(rows), strings=strings)


def from_intake_to_collection(teller: Teller) -> Thread:
    """A teacher's cello: estimated, approved by telephone, more found and approved again, paid in parts, collected."""
    yield day("2025-09-09")
    job = teller.do(
        "open_job",
        client_id=teller.who("ida"),
        instrument={"kind": "cello", "maker": "Wilhelm Odrin", "standing": "labelled", "made_when": "about 1890",
                    "size": "4/4", "string_count": 4, "label_text": "Odrin, Wrackport 1889"},
        came_with="Fibre case\nBow, left in the case",
        hears="It buzzes on the open G and speaks late since the spring. To be ready for the term.",
        sees="Bridge bent towards the fingerboard; a seam open at the treble lower bout; soundpost short.",
        promised_on=day("2025-09-30"),
        insured_value=eur("9500.00"),
        deposit=eur("100.00"),
        cleared=True,
        pictures=(draw("cello", "chestnut", 4),),
        marks=(
            MarkRow(part="top_edge", term="open_seam", severity="marked", note="Ten centimetres, treble side.",
                    picture=1, x=6700, y=7600),
            MarkRow(part="bridge", term="warp", severity="slight", picture=1, x=5000, y=6300),
            MarkRow(part="nut", term="wear", severity="marked", note="A and D nearly down to the board."),
            MarkRow(part="back", term="scratch", severity="slight", note="From a buckle, old."),
        ),
        identity_seen="known for years",
    ).id  # fmt: skip
    teller.jobs["ida"] = job
    teller.things["ida-cello"] = teller.instrument_of_job(job)
    _setup(teller, "ida", "before", "692 mm, 88 mm, 9 mm, 6.5 mm, 47 mm, 118 mm, 80 mm, 4 mm", STEEL)
    yield day("2025-09-11")
    _estimate(
        teller, "ida", _listed(teller, "bridge"), _listed(teller, "post"),
        _listed(teller, "seam", minutes=40, minutes_high=90), _part(teller, "a-string"),
        note="What stands under the open seam is seen only when it is open.",
    )  # fmt: skip
    yield day("2025-09-12")
    _approve(teller, "ida", "Ida Skerrow", "480.00")
    yield day("2025-09-16")
    teller.do("put_on_bench", job_id=job)
    _time(teller, "ida", 75, "seam opened, cleaned and glued")
    teller.do(
        "note_job", job_id=job, words="Under the seam an old crack in the lower block; told her by telephone."
    )
    _estimate(
        teller, "ida", _listed(teller, "bridge"), _listed(teller, "post"), _listed(teller, "seam", minutes=75),
        EstimateRow(kind="labour", what="Crack in the lower block, glued and studded", minutes=90),
        EstimateRow(kind="service", what="Endpin socket turned to the new hole", amount=eur("46.00")),
        _part(teller, "a-string"),
    )  # fmt: skip
    _approve(teller, "ida", "Ida Skerrow", "650.00", note="With the block, no more than that.")
    yield day("2025-09-18")
    teller.do("wait_for_part", job_id=job, words="the turned endpin socket")
    teller.do("buy_service", job_id=job, what="Endpin socket turned", supplier="Corder’s lathe, Underhaven",
              cost=eur("31.50"), price=eur("46.00"))  # fmt: skip
    yield day("2025-09-24")
    teller.do("part_came", job_id=job)
    teller.do("start_clock", job_id=job, what="bridge and soundpost")
    teller.do("stop_clock", job_id=job, minutes=165)
    for goods in ("bridge", "post", "a-string"):
        _use(teller, "ida", goods)
    _use(teller, "ida", "a-string")
    teller.do("put_part_back", job_id=job, goods_id=teller.goods["a-string"], quantity=1)
    _time(teller, "ida", 85, "block")
    teller.do(
        "add_job_pictures", job_id=job, caption="The bridge, cut", pictures=(draw("cello", "honey", 4),)
    )
    teller.do(
        "report_job_condition", job_id=job, occasion="handover", light="daylight",
        overall="Sound. Nothing new but what was done.", pictures=(draw("cello", "chestnut", 4),),
        marks=(
            MarkRow(part="top_edge", term="repaired", severity="noted", note="Seam glued, treble side.",
                    picture=1, x=6700, y=7600),
            MarkRow(part="bridge", term="replaced", severity="noted", note="New.", picture=1, x=5000, y=6300),
            MarkRow(part="nut", term="wear", severity="slight", note="Slots filled and cut again."),
            MarkRow(part="back", term="scratch", severity="slight", note="From a buckle, old."),
        ),
    )  # fmt: skip
    _setup(teller, "ida", "after", "692 mm, 91 mm, 8 mm, 5.5 mm, 47 mm, 118 mm, 80.5 mm, 5 mm", STEEL)
    angle = MeasureRow(measure="string_angle", value="154.5")
    teller.do("measure", instrument_id=teller.instrument_of_job(job), measures=(angle,))
    _ready(teller, "ida")
    yield day("2025-09-25")
    _bill(
        teller, "ida", _work("Bridge, cut and fitted", "240.00", 150), _work("Soundpost, cut and set", "75.00", 45),
        _work("Open seam, glued", "80.00", 75), _work("Crack in the lower block, glued and studded", "96.00", 90),
        WorkRow(kind="service", what="Endpin socket turned", amount=eur("46.00")),
        _material("Cello string A, steel", "31.00"),
    )  # fmt: skip
    sale = teller.bill_of_job(job)
    teller.pay(sale, "300.00", method="card")
    yield day("2025-09-29")
    teller.pay(sale, method="cash")
    teller.do("collect_job", job_id=job, handed_to="Ida Skerrow", identity_seen="known for years",
              condition_out="As on the report, the seam closed, a new bridge.")  # fmt: skip


def under_warranty(teller: Teller) -> Thread:
    """The same cello half a year later: the seam opened again, and nobody is asked for money."""
    yield day("2026-03-10")
    job = teller.do(
        "open_job",
        client_id=teller.who("ida"),
        instrument_id=teller.things["ida-cello"],
        came_with="Fibre case",
        hears="The seam buzzes again in the same place.",
        sees="Open for three centimetres beside last year’s work.",
        promised_on=day("2026-03-17"),
        insured_value=eur("9500.00"),
        bill_to="warranty",
        earlier_claim=teller.claim_number("ida"),
    ).id
    teller.jobs["warranty"] = job
    _time(teller, "warranty", 35, "seam glued again")
    _ready(teller, "warranty")
    yield day("2026-03-12")
    _bill(teller, "warranty", _work("Seam, glued again", "37.33", 35), bill_to="warranty")
    teller.do("collect_job", job_id=job, handed_to="Ida Skerrow")


def on_an_owners_account(teller: Teller) -> Thread:
    """Soundpost and strings on a consigned cello: within what its owner allows without being asked."""
    yield day("2025-10-14")
    job = teller.do(
        "open_job_here", instrument_id=teller.things["spar"], client_id=teller.who("gwendolen"), bill_to="owner",
        hears="Two players found it dull on the A.", sees="Soundpost too tight; A string worn.",
    ).id  # fmt: skip
    teller.jobs["spar"] = job
    teller.do("make_report", instrument_id=teller.things["spar"], occasion="other", light="raking light",
              overall="Sound; nothing new since it came.",
              marks=(MarkRow(part="top", term="varnish_loss", severity="noted", note="Old, beside the bridge."),),
              )  # fmt: skip
    teller.do("put_on_bench", job_id=job)
    _use(teller, "spar", "post")
    _use(teller, "spar", "a-string")
    _time(teller, "spar", 50, "soundpost, adjusting")
    yield day("2025-10-16")
    _ready(teller, "spar")
    _bill(teller, "spar", _work("Soundpost, cut and set", "75.00", 50), _material("Cello string A, steel", "31.00"),
          bill_to="owner")  # fmt: skip
    teller.do("collect_job", job_id=job)


def for_the_shop(teller: Teller) -> Thread:
    """The shop's own bass viol gets strings and a tail cord: part of what it cost."""
    yield day("2025-07-15")
    job = teller.do(
        "open_job_here", instrument_id=teller.things["own-bass"], client_id=teller.shop_person(), bill_to="shop",
        hears="To be made ready to show.",
    ).id  # fmt: skip
    teller.jobs["own-bass"] = job
    _use(teller, "own-bass", "gut-d", 2)
    _use(teller, "own-bass", "cord")
    _time(teller, "own-bass", 130, "frets tied anew, strings")
    yield day("2025-07-17")
    _ready(teller, "own-bass")
    _bill(teller, "own-bass", _work("Made ready to show", "138.67", 130), _material("Strings and cord", "46.00"),
          bill_to="shop")  # fmt: skip
    teller.do("collect_job", job_id=job)


def declined(teller: Teller) -> Thread:
    """A small cello whose repair would cost more than its client wants to spend: declined, and fetched again."""
    yield day("2026-03-06")
    job = teller.do(
        "open_job_here", instrument_id=teller.things["oar-cello"], client_id=teller.who("celestine"),
        hears="Would like to know what it takes to make it playable again.",
        sees="Open seam at the lower bout; fingerboard worn hollow; neck gone down.",
        deposit=eur("50.00"), cleared=True,
    ).id  # fmt: skip
    teller.jobs["oar"] = job
    yield day("2026-03-10")
    _estimate(teller, "oar", _listed(teller, "dress"), _listed(teller, "bridge"), _listed(teller, "seam"),
              EstimateRow(kind="labour", what="Neck set again", minutes=480, minutes_high=720))  # fmt: skip
    yield day("2026-03-14")
    teller.do(
        "decline_job", job_id=job, given_by="Célestine Oar", how="email", note="More than it is worth to her."
    )
    yield day("2026-03-20")
    teller.do("return_declined", job_id=job, handed_to="Célestine Oar", identity_seen="known",
              condition_out="As it came.")  # fmt: skip


def left_behind(teller: Teller) -> Thread:
    """A violin that is ready since summer: reminded three times, and still here."""
    yield day("2026-06-16")
    job = teller.do(
        "open_job_here", instrument_id=teller.things["juno-violin"], client_id=teller.who("juno"),
        hears="Pegs slip.", sees="Peg holes worn oval.", promised_on=day("2026-06-30"),
    ).id  # fmt: skip
    teller.jobs["juno"] = job
    _estimate(teller, "juno", EstimateRow(kind="labour", what="Pegs eased and fitted", minutes=60))
    _approve(teller, "juno", "Juno Merrow", "75.00", "counter")
    yield day("2026-06-23")
    _time(teller, "juno", 55, "pegs")
    _ready(teller, "juno")
    _bill(teller, "juno", _work("Pegs eased and fitted", "64.00", 60))
    for on in ("2026-07-24", "2026-08-25", "2026-09-22"):
        yield day(on)
        teller.do("remind", job_id=job)


def sold_for_what_was_owed(teller: Teller) -> Thread:
    """A cello that nobody fetched in a year: sold by the law of the place, the surplus kept for its owner."""
    yield day("2024-12-05")
    job = teller.do(
        "open_job",
        client_id=teller.who("lorcan"),
        instrument={"kind": "cello", "standing": "unknown", "made_when": "about 1960", "size": "1/2",
                    "string_count": 4},
        came_with="Soft case",
        hears="To be made playable for a pupil.",
        insured_value=eur("900.00"),
    ).id  # fmt: skip
    teller.jobs["left"] = job
    _estimate(
        teller, "left", _listed(teller, "bridge"), EstimateRow(kind="labour", what="Set up anew", minutes=45)
    )
    _approve(teller, "left", "Lorcan Vane", "310.00", "letter")
    yield day("2024-12-12")
    _time(teller, "left", 190, "bridge, set-up")
    _use(teller, "left", "bridge")
    _ready(teller, "left")
    _bill(teller, "left", _work("Bridge, cut and fitted", "240.00", 150), _work("Set up anew", "47.04", 45))
    for on in ("2025-01-13", "2025-02-11", "2025-03-13"):
        yield day(on)
        teller.do("remind", job_id=job)
    yield day("2026-04-14")
    teller.do(
        "sell_for_lien", job_id=job, price=eur("900.00"), costs=eur("40.00"), sold_to="Ebbing and Low, Strings",
        buyer_id=teller.who("dealer"),
        by_what_right="Three letters, a notice of sale on 2 March 2026, the waiting time of the harbour ordinance; "
        "gone through with a solicitor.",
    )  # fmt: skip


def on_the_bench_now(teller: Teller) -> Thread:
    """What is in the workshop this month: to be estimated, with its client, agreed, on the bench, waiting, ready."""
    yield day("2026-10-27")
    teller.jobs["pegs"] = _left(
        teller, "jonas", "viola_da_gamba", "Pegs slip whenever the weather turns.", "2026-12-04",
        sees="All seven pegs worn; two holes cracked.", size="bass", string_count=7,
    )  # fmt: skip
    _estimate(teller, "pegs", _listed(teller, "pegs"), _part(teller, "gut-d", 2))
    yield day("2026-10-30")
    _approve(teller, "pegs", "Jonas Quillon", "400.00", "email")
    yield day("2026-11-03")
    _time(teller, "pegs", 60, "holes bushed")
    teller.do("wait_for_part", job_id=teller.jobs["pegs"], words="seven peg blanks of plum")
    teller.jobs["dress"] = _left(
        teller, "tam", "cello", "Buzzes high on the C.", "2026-11-27", sees="A hump under the C string.", size="4/4",
    )  # fmt: skip
    _estimate(teller, "dress", _listed(teller, "dress", amount_high=eur("260.00")))
    yield day("2026-11-05")
    _approve(teller, "dress", "Tam Brinegard", "285.00", "counter")
    yield day("2026-11-10")
    teller.do("put_on_bench", job_id=teller.jobs["dress"])
    _time(teller, "dress", 80, "planed, first pass")
    teller.jobs["post"] = _left(
        teller, "wenna", "piccolo_cello", "A wolf between E and F.", "2026-12-11", sees="Afterlength far off.",
        string_count=5,
    )  # fmt: skip
    _estimate(teller, "post", _listed(teller, "adjust", minutes=60, minutes_high=120), _part(teller, "cord"))
    yield day("2026-11-13")
    _approve(teller, "post", "Wenna Pellow", "150.00")
    yield day("2026-11-17")
    teller.jobs["rehair"] = teller.do(
        "open_job_here", instrument_id=teller.things["rehair"], client_id=teller.who("mirabel"),
        hears="Rehair; the hair is worn on the playing side.", promised_on=day("2026-11-20"),
    ).id  # fmt: skip
    _approve(teller, "rehair", "Mirabel Tern", "80.00", "counter")
    yield day("2026-11-18")
    _use(teller, "rehair", "hair")
    _time(teller, "rehair", 50, "rehaired")
    _ready(teller, "rehair")
    teller.do("back_to_bench", job_id=teller.jobs["rehair"])
    _time(teller, "rehair", 10, "wedge seated again")
    _ready(teller, "rehair")
    yield day("2026-11-20")
    teller.jobs["waits"] = _left(
        teller, "hester", "viola_da_gamba", "A rattle inside.", "", sees="A lining loose; top has to come off.",
        size="bass", string_count=6,
    )  # fmt: skip
    _estimate(teller, "waits", EstimateRow(kind="labour", what="Top taken off, lining glued, closed",
                                           minutes=360, minutes_high=540))  # fmt: skip
    yield day("2026-11-23")
    teller.jobs["new"] = _left(
        teller, "nerys", "violin", "Neck feels thick; would like to try another set of strings.", "2026-12-18",
    )  # fmt: skip
    teller.do("change_job", job_id=teller.jobs["new"], job={
        "client_id": teller.who("nerys"), "bill_to": "client", "promised_on": day("2026-12-16"),
        "hears": "Neck feels thick; would like to try another set of strings.",
        "sees": "22 mm at the nut: within the usual.",
    })  # fmt: skip
    yield day("2026-11-24")
    teller.do(
        "report_job_condition", job_id=teller.jobs["new"], occasion="intake", light="daylight",
        overall="Much played, well kept.", pictures=(draw("violin", "amber", 4),),
        marks=(MarkRow(part="fingerboard", term="wear", severity="slight", picture=1, x=5000, y=4100),),
    )  # fmt: skip


def _left(
    teller: Teller, who: str, kind: str, hears: str, promised: str, sees: str = "", **known: Any
) -> int:
    return teller.do(
        "open_job",
        client_id=teller.who(who),
        instrument={"kind": kind, "standing": "unknown", **known},
        came_with="Case",
        hears=hears,
        sees=sees,
        promised_on=day(promised) if promised else None,
        insured_value=eur("4000.00"),
    ).id


THREADS = (
    sold_for_what_was_owed, for_the_shop, from_intake_to_collection, on_an_owners_account, declined, under_warranty,
    left_behind, on_the_bench_now,
)  # fmt: skip
