"""Read a QR code's drawing back, module by module, by the standard's rules and without the library that drew it.

Written from ISO/IEC 18004 as remembered: finder, timing and alignment patterns, the format's two bits of error
correction level and three of mask, the eight masks, the zigzag of codewords, blocks dealt out in turn, byte mode. What
is read is checked by the code itself: every block's syndromes are zero only where each module is where it belongs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

ALIGNMENT = {1: (), 2: (6, 18), 3: (6, 22), 4: (6, 26), 5: (6, 30), 6: (6, 34), 7: (6, 22, 38), 8: (6, 24, 42)}
# Codewords of correction in a block, then (blocks, codewords of data in each), by version and level. Remembered; a
# wrong row fails at once, for no block's syndromes would be zero.
BLOCKS = {
    1: {"M": (10, [(1, 16)]), "Q": (13, [(1, 13)]), "H": (17, [(1, 9)])},
    2: {"M": (16, [(1, 28)]), "Q": (22, [(1, 22)]), "H": (28, [(1, 16)])},
    3: {"M": (26, [(1, 44)]), "Q": (18, [(2, 17)]), "H": (22, [(2, 13)])},
    4: {"M": (18, [(2, 32)]), "Q": (26, [(2, 24)]), "H": (16, [(4, 9)])},
    5: {"M": (24, [(2, 43)]), "Q": (18, [(2, 15), (2, 16)]), "H": (22, [(2, 11), (2, 12)])},
    6: {"M": (16, [(4, 27)]), "Q": (24, [(4, 19)]), "H": (28, [(4, 15)])},
    7: {"M": (18, [(4, 31)]), "Q": (18, [(2, 14), (4, 15)]), "H": (26, [(4, 13), (1, 14)])},
    8: {"M": (22, [(2, 38), (2, 39)]), "Q": (22, [(4, 18), (2, 19)]), "H": (26, [(4, 14), (2, 15)])},
}
LEVELS = {0b00: "M", 0b01: "L", 0b10: "H", 0b11: "Q"}
MASKS = (
    lambda r, c: (r + c) % 2,
    lambda r, c: r % 2,
    lambda r, c: c % 3,
    lambda r, c: (r + c) % 3,
    lambda r, c: (r // 2 + c // 3) % 2,
    lambda r, c: r * c % 2 + r * c % 3,
    lambda r, c: (r * c % 2 + r * c % 3) % 2,
    lambda r, c: ((r + c) % 2 + r * c % 3) % 2,
)


def modules(svg: str) -> list[list[int]]:
    """Dark modules of a drawing of strokes, a row after the other: ``h`` goes right in the dark, ``m`` goes on."""
    d = re.search(r'<path[^>]* d="([^"]+)"', svg)[1]
    runs: list[tuple[float, float, int]] = []
    x = y = 0.0
    for letter, numbers in re.findall(r"([MmhHlL])([^MmhHlL]*)", d):
        values = [float(v) for v in re.findall(r"-?[\d.]+", numbers)]
        if letter == "M":
            x, y = values
        elif letter == "m":
            x, y = x + values[0], y + values[1]
        elif letter == "h":
            runs.append((y, x, round(values[0])))
            x += values[0]
        else:
            raise AssertionError(f"a code is drawn with M, m and h alone, got {letter}")
    size = round(max(x + length for _, x, length in runs))
    grid = [[0] * size for _ in range(size)]
    for y, x, length in runs:
        for step in range(length):
            grid[int(y)][round(x) + step] = 1
    return grid


def read_qr(svg: str) -> str:
    """The text of a QR code of version 1 to 8, at least level M, byte mode."""
    grid = modules(svg)
    size = len(grid)
    version = (size - 17) // 4
    assert size == 17 + 4 * version
    _finders(grid)
    level, mask = _format(grid)
    bits = [grid[r][c] ^ (MASKS[mask](r, c) == 0) for r, c in _zigzag(size, version)]
    words = [int("".join(map(str, bits[i : i + 8])), 2) for i in range(0, len(bits) - 7, 8)]
    data = _dealt(words, *BLOCKS[version][LEVELS[level]])
    stream = "".join(f"{w:08b}" for w in data)
    assert stream[:4] == "0100", "byte mode"
    count = int(stream[4:12], 2)
    return bytes(int(stream[12 + 8 * i : 20 + 8 * i], 2) for i in range(count)).decode("utf-8")


def _finders(grid: list[list[int]]) -> None:
    size = len(grid)
    for top, left in ((0, 0), (0, size - 7), (size - 7, 0)):
        for r in range(7):
            for c in range(7):
                ring = max(abs(r - 3), abs(c - 3))
                assert grid[top + r][left + c] == (ring != 2)
    for i in range(8, size - 8):
        assert grid[6][i] == grid[i][6] == (i + 1) % 2


def _format(grid: list[list[int]]) -> tuple[int, int]:
    bits = [grid[8][c] for c in (0, 1, 2, 3, 4, 5, 7, 8)] + [grid[r][8] for r in (7, 5, 4, 3, 2, 1, 0)]
    value = int("".join(map(str, bits)), 2) ^ 0b101010000010010
    return value >> 13, value >> 10 & 0b111


def _zigzag(size: int, version: int) -> Iterator[tuple[int, int]]:
    """Places of the data in their order: two columns at a time from the right, up and down in turn."""
    taken = _function(size, version)
    right, up = size - 1, True
    while right > 0:
        if right == 6:
            right -= 1
        for r in range(size - 1, -1, -1) if up else range(size):
            for c in (right, right - 1):
                if (r, c) not in taken:
                    yield r, c
        right, up = right - 2, not up


def _function(size: int, version: int) -> set[tuple[int, int]]:
    taken = {(r, c) for r in range(9) for c in range(9)}
    taken |= {(r, c) for r in range(9) for c in range(size - 8, size)}
    taken |= {(r, c) for r in range(size - 8, size) for c in range(9)}
    taken |= {(6, i) for i in range(size)} | {(i, 6) for i in range(size)}
    at = ALIGNMENT[version]
    for r in at:
        for c in at:
            if (r, c) not in ((6, 6), (6, at[-1]), (at[-1], 6)):
                taken |= {(r + i, c + j) for i in range(-2, 3) for j in range(-2, 3)}
    if version >= 7:
        taken |= {(r, c) for r in range(6) for c in range(size - 11, size - 8)}
        taken |= {(r, c) for r in range(size - 11, size - 8) for c in range(6)}
    return taken


def _dealt(words: list[int], correction: int, groups: list[tuple[int, int]]) -> list[int]:
    sizes = [length for count, length in groups for _ in range(count)]
    blocks: list[list[int]] = [[] for _ in sizes]
    left = iter(words)
    for i in range(max(sizes)):
        for block, length in zip(blocks, sizes, strict=True):
            if i < length:
                block.append(next(left))
    for _ in range(correction):
        for block in blocks:
            block.append(next(left))
    for block in blocks:
        assert not any(_syndromes(block, correction)), "a module is not where it belongs"
    return [w for block, length in zip(blocks, sizes, strict=True) for w in block[:length]]


def _syndromes(block: list[int], correction: int) -> Iterator[int]:
    """The block as a polynomial over the field of 256, at the powers of 2; all zero where nothing is wrong."""
    for power in range(correction):
        at = 1
        for _ in range(power):
            at = _times(at, 2)
        value = 0
        for word in block:
            value = _times(value, at) ^ word
        yield value


def _times(a: int, b: int) -> int:
    out = 0
    while b:
        if b & 1:
            out ^= a
        a = a << 1 ^ (0x11D if a & 0x80 else 0)
        b >>= 1
    return out
