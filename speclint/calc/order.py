"""How much to order: tile, cartons, lengths of trim, units of membrane."""

from speclint.calc.guard import between, not_negative, positive, whole, whole_up
from speclint.calc.units import Count, Metres, Ratio, SquareMetres


def area_with_waste(area: SquareMetres, waste: Ratio) -> SquareMetres:
    """Area in square metres to order: area with the waste as a share added.

    Raises OutOfRange for no area or a negative waste. Source: arithmetic.
    """
    positive("area", area=area)
    not_negative("ratio", waste=waste)
    return area * (1 + waste)


def units_for_area(area: SquareMetres, unit_area: SquareMetres, waste: Ratio) -> Count:
    """Whole tiles, sheets, rolls or pails for an area with waste, rounded up; unit area is what one covers.

    Raises OutOfRange for no area, no unit area or a negative waste. Source: arithmetic.
    """
    positive("area", unit_area=unit_area)
    return whole_up(area_with_waste(area, waste) / unit_area)


def units_for_length(length: Metres, unit_length: Metres, waste: Ratio) -> Count:
    """Whole lengths of trim, profile or band for a run with waste, rounded up.

    Raises OutOfRange for no length, no unit length or a negative waste. Source: arithmetic.
    """
    positive("length", length=length, unit_length=unit_length)
    not_negative("ratio", waste=waste)
    return whole_up(length * (1 + waste) / unit_length)


def cartons(pieces: Count, in_carton: Count) -> Count:
    """Whole cartons for a number of pieces, rounded up. Raises OutOfRange for no piece or an empty carton."""
    whole(1, pieces=pieces, in_carton=in_carton)
    return -(-int(pieces) // int(in_carton))


def cuts_from_tile(cut: Metres, tile: Metres, kerf: Metres) -> Count:
    """End cuts that one tile yields: 2 when twice the cut and the kerf fit into it, else 1.

    Both pieces keep a factory edge, so never more than two. Raises OutOfRange for no cut, no tile or a
    negative kerf, and for a cut above the tile. Source: arithmetic.
    """
    positive("length", cut=cut, tile=tile)
    not_negative("length", kerf=kerf)
    between("length", 0, tile, cut=cut)
    return 2 if 2 * cut + kerf <= tile else 1


def straight_count(columns: Count, rows: Count) -> Count:
    """Tiles for a straight layout that spends a whole tile on every piece: columns times rows, cuts counted.

    Raises OutOfRange for no column or no row. Source: arithmetic.
    """
    whole(1, columns=columns, rows=rows)
    return int(columns) * int(rows)
