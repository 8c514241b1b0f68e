"""The one place where the window is wired to the real acts and questions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from shopledger.desk.shop import Picking, Shop
from shopledger.quantities.fields import Kind
from shopledger.queries.shapes import Subject

if TYPE_CHECKING:
    from shopledger.store.ledger import Ledger
    from shopledger.store.unit import Reading


def wire(ledger: Ledger) -> Shop:
    """Give an open ledger with all that can be asked of it and done in it."""
    from shopledger import acts
    from shopledger.queries import accounts, groups, papers, people, pickers, sales, shop_sheet, stock
    from shopledger.queries.declared import instrument_words, name_of

    def people_found(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
        return [(one.id, one.words) for one in pickers.find_people(reading, words, limit)]

    def instruments_found(reading: Reading, words: str, limit: int) -> Sequence[tuple[int, str]]:
        return [(one.id, one.words) for one in pickers.find_instruments(reading, words, limit)]

    return Shop(
        ledger=ledger,
        tables={
            "stock": (stock.TABLE,),
            "sales": (sales.TABLE,),
            "people": (people.TABLE,),
            "accounts": (accounts.JOURNAL, accounts.BALANCES, accounts.OWNERS),
        },
        sheets={
            Subject.INSTRUMENT: stock.sheet,
            Subject.SALE: sales.sheet,
            Subject.PERSON: people.sheet,
            Subject.ENTRY: accounts.entry_sheet,
            Subject.ACCOUNT: accounts.account_sheet,
        },
        picking={
            Kind.PERSON: Picking(people_found, name_of, "add_person"),
            Kind.INSTRUMENT: Picking(
                instruments_found, lambda reading, key: instrument_words(reading, [key]).get(key, "")
            ),
        },
        acts=acts.ALL,
        next_acts=acts.next_acts,
        do=acts.do,
        paper_row=papers.paper_row,
        paper=papers.paper_bytes,
        picture=papers.picture_bytes,
        group_fields=groups.group_fields,
        group_beginning=groups.group_beginning,
        facts=shop_sheet.sheet,
    )
