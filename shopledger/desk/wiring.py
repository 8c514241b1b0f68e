"""The one place where the window is wired to the real acts and questions, each loaded when it is first needed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from shopledger.desk.shop import AnyAct, Picking, Shop
from shopledger.desk.tables import TABLES
from shopledger.quantities.fields import Field, Kind
from shopledger.queries.shapes import Subject

if TYPE_CHECKING:
    from shopledger.acts.declare import Form, Outcome
    from shopledger.desk.draft_view import Draft
    from shopledger.queries.comparing import Comparison, Wanted
    from shopledger.queries.condition_pair import Pair
    from shopledger.queries.counting import Count
    from shopledger.queries.due_lines import Section
    from shopledger.queries.sheet_shapes import PaperRow, Sheet
    from shopledger.store.ledger import Ledger
    from shopledger.store.pictures import Small
    from shopledger.store.prepared import PreparedPicture
    from shopledger.store.unit import Reading


def wire(ledger: Ledger) -> Shop:
    """Give an open ledger with all that can be asked of it and done in it."""
    return Shop(
        ledger=ledger,
        tables=TABLES,
        sheets={
            Subject.INSTRUMENT: _instrument_sheet,
            Subject.TRIAL: _trial_sheet,
            Subject.STOCK_TAKE: _count_sheet,
            Subject.WISH: _wish_sheet,
            Subject.JOB: _job_sheet,
            Subject.GOODS: _goods_sheet,
            Subject.WORK: _work_sheet,
            Subject.SALE: _sale_sheet,
            Subject.PERSON: _person_sheet,
            Subject.ENTRY: _entry_sheet,
            Subject.ACCOUNT: _account_sheet,
        },
        picking={
            Kind.PERSON: Picking(_find_people, _person_named, "add_person"),
            Kind.INSTRUMENT: Picking(_find_instruments, _instrument_named),
            Kind.GOODS: Picking(_find_goods, _goods_named, "add_goods"),
            Kind.WORK: Picking(_find_work, _work_named, "add_work_item"),
        },
        acts=_acts,
        next_acts=_next_acts,
        do=_do,
        drafts=_drafts,
        paper_row=_paper_row,
        paper=_paper,
        paper_csv=_paper_csv,
        unprintable=_unprintable,
        picture=_picture,
        small=_small,
        prepare=_prepare,
        group_fields=_group_fields,
        group_beginning=_group_beginning,
        by_claim=_by_claim,
        today=_today,
        kind_of=_kind_of,
        reports_beside=_reports_beside,
        as_wanted=_as_wanted,
        beside=_beside,
        strings_of=_strings_of,
        count=_count,
        thing_by_code=_thing_by_code,
        facts=_facts,
    )


def _instrument_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import stock

    return stock.sheet(reading, key)


def _wish_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import wishes

    return wishes.sheet(reading, key)


def _count_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import counts

    return counts.sheet(reading, key)


def _trial_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import trials

    return trials.sheet(reading, key)


def _job_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import jobs

    return jobs.sheet(reading, key)


def _goods_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import goods

    return goods.sheet(reading, key)


def _work_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import price_list

    return price_list.sheet(reading, key)


def _sale_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import sales

    return sales.sheet(reading, key)


def _person_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import people

    return people.sheet(reading, key)


def _entry_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import accounts

    return accounts.entry_sheet(reading, key)


def _account_sheet(reading: Reading, key: int) -> Sheet:
    from shopledger.queries import accounts

    return accounts.account_sheet(reading, key)


def _by_claim(reading: Reading, typed: str) -> tuple[int, str] | None:
    from shopledger.queries import jobs

    return jobs.by_claim(reading, typed)


def _today(reading: Reading) -> tuple[Section, ...]:
    from shopledger.queries import today

    return today.sections(reading)


def _kind_of(reading: Reading, subject: Subject, key: int) -> str:
    from shopledger.queries import condition

    return condition.kind_of(reading, subject, key)


def _reports_beside(reading: Reading, before_id: int, after_id: int) -> Pair:
    from shopledger.queries import condition_pair

    return condition_pair.pair_of(reading, before_id, after_id)


def _as_wanted(key: int) -> Wanted:
    from shopledger.queries import comparing

    return comparing.Wanted(key)


def _beside(reading: Reading, wanted: Sequence[Wanted], with_it: Sequence[int]) -> Comparison:
    from shopledger.queries import comparing

    return comparing.compare(reading, wanted, with_it)


def _strings_of(reading: Reading, key: int) -> Mapping[str, object]:
    from shopledger.queries import strings

    return strings.known_of_strings(reading, key)


def _count(reading: Reading, key: int) -> Count:
    from shopledger.queries import counting

    return counting.count_of(reading, key)


def _thing_by_code(reading: Reading, typed: str) -> int:
    from shopledger.queries import by_code

    return by_code.instrument_by_code(reading, typed)


def _facts(reading: Reading) -> Sheet:
    from shopledger.queries import shop_sheet

    return shop_sheet.sheet(reading)


def _find_people(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
    from shopledger.queries.pickers import find_people

    return [(one.id, one.words) for one in find_people(reading, words, limit)]


def _person_named(reading: Reading, key: int) -> str:
    from shopledger.queries.declared import name_of

    return name_of(reading, key)


def _find_instruments(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
    from shopledger.queries.pickers import find_instruments

    return [(one.id, one.words) for one in find_instruments(reading, words, limit)]


def _instrument_named(reading: Reading, key: int) -> str:
    from shopledger.queries.declared import instrument_words

    return instrument_words(reading, [key]).get(key, "")


def _find_goods(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
    from shopledger.queries.pickers import find_goods

    return [(one.id, one.words) for one in find_goods(reading, words, limit)]


def _goods_named(reading: Reading, key: int) -> str:
    from shopledger.queries.declared import goods_words

    return goods_words(reading, [key]).get(key, "")


def _find_work(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
    from shopledger.queries.pickers import find_work

    return [(one.id, one.words) for one in find_work(reading, words, limit)]


def _work_named(reading: Reading, key: int) -> str:
    from shopledger.queries.declared import work_words

    return work_words(reading, [key]).get(key, "")


def _acts() -> tuple[AnyAct, ...]:
    from shopledger import acts

    return acts.ALL


def _next_acts(reading: Reading, subject: Subject, key: int) -> tuple[AnyAct, ...]:
    from shopledger import acts

    return acts.next_acts(reading, subject, key)


def _do(ledger: Ledger, act: AnyAct, form: Form, step: Callable[[int, int], None] | None = None) -> Outcome:
    from shopledger import acts
    from shopledger.store.files import no_step

    return acts.do(ledger, act, form, step or no_step)


def _drafts(ledger: Ledger, act: AnyAct, form: Form) -> Sequence[Draft]:
    from shopledger.acts.doing import would_leave
    from shopledger.acts.papers import draw_draft, title_of_draft, unprintable_on_draft
    from shopledger.desk.draft_view import Draft

    # All that is read is read inside the unit; drawing, which takes longer, comes after it.
    return [
        Draft(title_of_draft(one), one.number, draw_draft(one), unprintable_on_draft(one))
        for one in would_leave(ledger, act, form)
    ]


def _paper_row(reading: Reading, key: int) -> PaperRow:
    from shopledger.queries.papers import paper_row

    return paper_row(reading, key)


def _paper(ledger: Ledger, key: int) -> bytes:
    from shopledger.acts.papers import issue_paper
    from shopledger.queries.papers import paper_bytes

    # A paper that still waits for its file, since the disk was full or the program was killed, gets it now.
    issue_paper(ledger, key)
    return paper_bytes(ledger, key)


def _paper_csv(reading: Reading, key: int) -> bytes:
    from shopledger.queries.papers import paper_csv

    return paper_csv(reading, key)


def _unprintable(reading: Reading, key: int) -> Sequence[str]:
    from shopledger.queries.papers import unprintable_on

    return unprintable_on(reading, key)


def _picture(ledger: Ledger, sha256: str) -> bytes:
    from shopledger.queries.papers import picture_bytes

    return picture_bytes(ledger, sha256)


def _small(content: bytes, width: int, height: int) -> Small:
    from shopledger.store.pictures import small_picture

    return small_picture(content, width, height)


def _prepare(
    source: Path | bytes, name: str, folder: Path, side: int, field: str
) -> tuple[PreparedPicture, Small]:
    from shopledger.store.prepared import prepare_picture

    return prepare_picture(source, name, folder, side=side, field=field)


def _group_fields(record: type) -> Mapping[str, Field]:
    from shopledger.queries.groups import group_fields

    return group_fields(record)


def _group_beginning(record: type) -> Mapping[str, object]:
    from shopledger.queries.groups import group_beginning

    return group_beginning(record)
