"""What a sale would leave, said before it is made: every owner by name, and nothing written."""

from __future__ import annotations

from shopledger.acts import act
from shopledger.quantities.money import Money
from tests.helpers.shops import TriedShop, row


def test_each_owner_stands_in_the_preview_by_name_with_their_part(shop: TriedShop) -> None:
    instrument = shop.consigned("9000.00", row(shop.owner, "1/3"), row(shop.other, "2/3"))
    before = shop.rows()
    form = shop.form("sell", buyer_id=shop.player, lines=(shop.line(instrument, "9000.00"),))
    with shop.ledger.read() as reading:
        preview = act("sell").preview
        assert preview is not None
        lines = {line.label: line.amount for line in preview(reading, form).lines}
    net = lines["Owner's net"]
    assert isinstance(net, Money)
    assert lines["To Orla Fenn"] == net.shared([1, 2])[0]
    assert lines["To Ivo Marsh"] == net.shared([1, 2])[1]
    assert not any("P 0" in label for label in lines)
    assert shop.rows() == before


def test_a_single_owner_needs_no_line_beside_the_net(shop: TriedShop) -> None:
    instrument = shop.consigned("9000.00")
    form = shop.form("sell", buyer_id=shop.player, lines=(shop.line(instrument, "9000.00"),))
    with shop.ledger.read() as reading:
        preview = act("sell").preview
        assert preview is not None
        labels = [line.label for line in preview(reading, form).lines]
    assert "Owner's net" in labels
    assert not any(label.startswith("To ") for label in labels)
