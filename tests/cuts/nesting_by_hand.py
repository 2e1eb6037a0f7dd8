"""A slow nesting by trying everything, and a first-fit one, both in whole units and apart from the program."""

from __future__ import annotations

from fractions import Fraction

UNIT_M = 254 / 160_000  # 1/16 in


def exact(length_m):
    """A length as a fraction of a metre, to 0.1 micrometre."""
    return Fraction(round(length_m * 10**7), 10**7)


def try_everything(pieces, kerf, sale, shed, priced=True):
    """Best (pieces lacking, cost, length sawn into, different sticks) over every way to put pieces into sticks.

    Pieces, kerf, stick lengths and the shed are whole numbers; `sale` holds (length, price). A piece may be lacking
    only if no stick for sale is long enough.
    """
    longest_for_sale = max((length for length, _ in sale), default=0)
    best = [None]

    def value(sticks, lacking):
        bought = [(length, price) for origin, length, price, _, _ in sticks if origin == "buy"]
        cost = sum(price if priced else length for length, price in bought)
        used = sum(length for _, length, _, _, _ in sticks)
        different = {(origin, length, tuple(sorted(held))) for origin, length, _, _, held in sticks}
        return lacking, cost, used, len(different)

    def place(at, sticks, shed_left, lacking):
        if best[0] is not None and value(sticks, lacking)[:3] > best[0][:3]:
            return  # sticks never go away again
        if at == len(pieces):
            found = value(sticks, lacking)
            if best[0] is None or found < best[0]:
                best[0] = found
            return
        piece = pieces[at]
        for i, (origin, length, price, room, held) in enumerate(sticks):
            if piece <= room:
                fuller = (origin, length, price, room - piece - kerf, (*held, piece))
                place(at + 1, [*sticks[:i], fuller, *sticks[i + 1 :]], shed_left, lacking)
        for length in sorted(set(shed_left)):
            if piece <= length:
                left = list(shed_left)
                left.remove(length)
                place(at + 1, [*sticks, ("on-hand", length, 0, length - piece - kerf, (piece,))], left, lacking)
        for length, price in sale:
            if piece <= length:
                stick = ("buy", length, price, length - piece - kerf, (piece,))
                place(at + 1, [*sticks, stick], shed_left, lacking)
        if piece > longest_for_sale:
            place(at + 1, sticks, shed_left, lacking + 1)

    place(0, [], list(shed), 0)
    return best[0]


def first_fit_decreasing(pieces, kerf, sale, shed):
    """(cost, length sawn into) of the textbook's first fit: the shed first, then sticks of one length for sale.

    The best over the lengths for sale that hold the longest piece; None if there is no such length.
    """
    results = []
    for length, price in sale:
        if length < max(pieces):
            continue
        sticks = [[own, own, 0] for own in shed]  # length, room, price
        used = set()
        for piece in sorted(pieces, reverse=True):
            first = next((i for i, (_, room, _) in enumerate(sticks) if piece <= room), len(sticks))
            if first == len(sticks):
                sticks.append([length, length, price])
            sticks[first][1] -= piece + kerf
            used.add(first)
        results.append((sum(sticks[i][2] for i in used), sum(sticks[i][0] for i in used)))
    return min(results, default=None)
