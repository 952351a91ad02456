"""A picture as pixels, for programs that cannot show SVG."""

from __future__ import annotations

import struct
import zlib

from seamproof.booklet.typesetting import drawn

DPI = 300
"""Pixels an inch: what printers of paper ask for (common practice, no source)."""

_HEADER = b"\x89PNG\r\n\x1a\n"
_INCH = 0.0254  # in metres, which PNG counts in


def png(svg: str, dpi: int = DPI) -> bytes:
    r"""An SVG document of ours as PNG, `dpi` pixels to each of its inches, which the file says, so
    that it prints at the same size. Two calls give the same bytes.

    >>> data = png('<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="2in"/>', 100)
    >>> data[:4], struct.unpack(">II", data[16:24])
    (b'\x89PNG', (100, 200))
    """
    return _with_size(drawn(svg, dpi), dpi)


def _with_size(data: bytes, dpi: int) -> bytes:
    """With the number of pixels a metre written after the first chunk (PNG, third edition, 11.3.4.3
    pHYs)."""
    start = len(_HEADER)
    (length,) = struct.unpack(">I", data[start : start + 4])
    end = start + 12 + length
    across = round(dpi / _INCH)
    said = b"pHYs" + struct.pack(">IIB", across, across, 1)
    chunk = struct.pack(">I", len(said) - 4) + said + struct.pack(">I", zlib.crc32(said))
    return data[:end] + chunk + data[end:]
