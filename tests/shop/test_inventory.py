from __future__ import annotations

from dataclasses import replace

import pytest

from faywright.errors import InputError
from faywright.shop import ASSUMED_GAUGE, Cutter, Gauge, Machine, Shop
from tests.shop.owned import ROUTER, gauge, slot, straight

COARSE, FINE = gauge("coarse", resolution=0.5), gauge("fine", resolution=0.01)
CALIPERS = replace(COARSE, mark="calipers", uses=("thickness",))


def shop(
    *,
    machines: tuple[Machine, ...] = (ROUTER,),
    cutters: tuple[Cutter, ...] = (),
    gauges: tuple[Gauge, ...] = (),
) -> Shop:
    return Shop(title="The shed", machines=machines, cutters=cutters, gauges=gauges)


@pytest.mark.parametrize("gauges", [(COARSE, FINE), (FINE, COARSE), (CALIPERS, FINE)])
def test_the_finest_gauge_for_a_use_is_taken(gauges: tuple[Gauge, ...]) -> None:
    assert shop(gauges=gauges).gauge_for("height") is FINE


def test_a_coarse_gauge_of_ones_own_comes_before_an_assumed_one() -> None:
    assert shop(gauges=(COARSE, CALIPERS)).gauge_for("thickness") is CALIPERS


def test_a_gauge_is_assumed_where_none_is_listed_for_a_use() -> None:
    assert shop(gauges=(FINE,)).gauge_for("thickness") is ASSUMED_GAUGE
    assert shop().gauge_for("fence") is ASSUMED_GAUGE


def test_a_shop_needs_a_machine() -> None:
    with pytest.raises(InputError, match=r"^shop: no machine listed\. List at least one"):
        shop(machines=())


def test_things_of_a_kind_need_marks_of_their_own() -> None:
    with pytest.raises(InputError, match=r"^shop: machine 'R1' is listed twice\. Give each its"):
        shop(machines=(ROUTER, ROUTER))
    with pytest.raises(InputError, match="cutter 'S1' is listed twice"):
        shop(cutters=(straight(), slot(), straight(6.0)))
    with pytest.raises(InputError, match="gauge 'fine' is listed twice"):
        shop(gauges=(FINE, COARSE, replace(COARSE, mark="fine")))


def test_things_of_two_kinds_may_share_a_mark() -> None:
    same = replace(FINE, mark="R1")
    assert shop(gauges=(same,)).gauge_for("height") is same
