"""Draws the program's mark as PNG files: an ink square with three strips, filled 100, 62 and 28 %.

    make_icons.py FOLDER      writes icon-180.png, icon-192.png, icon-512.png, icon-maskable-512.png

Only the standard library: a PNG is a few chunks around zlib.
"""
import struct
import sys
import zlib
from pathlib import Path

INK, STRIP, PALE = (0x0E, 0x1B, 0x17), (0x74, 0xCD, 0xA6), (0x37, 0x44, 0x3F)
FILLS = (1.00, 0.62, 0.28)


def rounded(x, y, left, top, right, bottom, radius):
    """Is the point inside the rounded box?"""
    if not (left <= x < right and top <= y < bottom):
        return False
    dx = max(left + radius - x, x - (right - radius), 0)
    dy = max(top + radius - y, y - (bottom - radius), 0)
    return dx * dx + dy * dy <= radius * radius


def color_at(x, y, margin, corner):
    """Color of the point (0…1), or None outside the square."""
    if not rounded(x, y, 0, 0, 1, 1, corner):
        return None
    inner = 1 - 2 * margin
    height, gap = inner * 0.24, inner * 0.14
    for i, fill in enumerate(FILLS):
        top = margin + i * (height + gap)
        if rounded(x, y, margin, top, 1 - margin, top + height, height * 0.18):
            return STRIP if x < margin + inner * fill else PALE
    return INK


def draw(size, margin, corner):
    samples = 2 if size > 256 else 4  # A side: edges are smoothed by 4 or 16 samples a pixel.
    rows = []
    for py in range(size):
        row = bytearray([0])  # Filter: none.
        for px in range(size):
            r = g = b = a = 0
            for s in range(samples * samples):
                x = (px + (s % samples + 0.5) / samples) / size
                y = (py + (s // samples + 0.5) / samples) / size
                color = color_at(x, y, margin, corner)
                if color:
                    r, g, b, a = r + color[0], g + color[1], b + color[2], a + 1
            n = max(a, 1)
            row += bytes((r // n, g // n, b // n, a * 255 // (samples * samples)))
        rows.append(bytes(row))
    return b"".join(rows)


def png(size, pixels):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    head = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(pixels, 9)) + chunk(b"IEND", b"")


def main():
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    # iOS rounds the corners itself; a maskable icon is cut to a circle of 80 %: its strips stay inside.
    for name, size, margin, corner in (("icon-180", 180, 0.2, 0.0), ("icon-192", 192, 0.18, 0.12),
                                       ("icon-512", 512, 0.18, 0.12), ("icon-maskable-512", 512, 0.27, 0.0)):
        (folder / f"{name}.png").write_bytes(png(size, draw(size, margin, corner)))


main()
