"""The example's count of the stock: most of it seen, one thing not found, one met that the books have elsewhere."""

from __future__ import annotations

from shopledger.example.telling import Teller, Thread, day
from shopledger.queries.counting import count_of


def in_spring(teller: Teller) -> Thread:
    """The maker counts what lies in the house; a cello handed over the day before is there again for new strings."""
    yield day("2025-03-05")
    count = teller.do("begin_count", note="Before the insurer’s visit.").id
    with teller.ledger.read() as reading:
        numbers = [line.number for line in count_of(reading, count).lines]
    for number in numbers:
        teller.do("tick", stock_take_id=count, code=number)
    # Read from the wrong side of a rack: the one that hangs there is another.
    teller.do("untick", stock_take_id=count, code=numbers[-2])
    teller.do("tick", stock_take_id=count, code="No. 001", note="Here again for new strings.")
    teller.do("note_unlisted", stock_take_id=count, what="a cello bow without a frog, in the lower drawer")
    teller.do("end_count", stock_take_id=count)


THREADS = (in_spring,)
