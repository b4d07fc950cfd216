"""NIST SP 811 (2008 edition), Appendix B.8: factors to metres. Values from memory of the table.

All three stand in bold there, which marks them as exact.
"""

from fractions import Fraction

import pytest

from faywright.lengths import Unit, read_length

APPENDIX_B8 = [
    # as the table names it, as it is read here, metres
    ("inch (in)", "in", "2.54E-02"),
    ("foot (ft)", "ft", "3.048E-01"),
    ("mil (0.001 in)", "thou", "2.54E-05"),
]


@pytest.mark.parametrize(("name", "unit", "metres"), APPENDIX_B8)
def test_factors_to_metres_are_exact(name: str, unit: Unit, metres: str) -> None:
    assert read_length(f"1 {unit}", bare="mm") == 1000 * Fraction(metres), name
