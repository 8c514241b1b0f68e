"""What a sale or a loss means for what is with another dealer: through whom it may be sold, and the placing's end."""

from __future__ import annotations

from shopledger.acts.selling_forms import Sell
from shopledger.model import Placing, Stay
from shopledger.quantities.errors import Refused
from shopledger.quantities.words import N_
from shopledger.queries.away import Placed, placed
from shopledger.store.unit import Reading, Writing


def placed_with_buyer(
    reading: Reading, form: Sell, stay: Stay, instrument: str, buyer_id: int
) -> Placed | None:
    """Give the placing that a sale ends, None for what isn't with another dealer.

    Raises: Refused, with whom it is, where it is sold neither to nor through that dealer.
    """
    there = placed(reading, stay.id)
    if there is not None and there.dealer_id not in (buyer_id, form.dealer_id):
        raise Refused(
            N_(
                "{instrument} is with {dealer} ({placing}). Sell it to {dealer}, name {dealer} as the second dealer "
                "of a consigned line, or record that it came back first."
            ),
            instrument=instrument,
            dealer=there.dealer,
            placing=there.number,
        )
    return there


def end_placing(writing: Writing, there: Placed | None, ending: str) -> None:
    """End the placing of what is sold there or lost, where one goes on; until it is handed over it is there."""
    if there is not None:
        placing = writing.session.get_one(Placing, there.id)
        placing.ended_on, placing.ending = writing.on, ending
        writing.session.flush()
