#!/usr/bin/env python3
"""Writes the seeds of the fuzz target `read`: one small file for each layout and each fault.

Needs nothing but Python 3: `python3 crate/core/fuzz/make_seeds.py`.
"""

import pathlib
import struct

SEEDS = pathlib.Path(__file__).parent / "seeds" / "read"
UNKNOWN = 0xFFFFFFFF
GUID = b"\0\0\0\0\x10\0\x80\0\0\xaa\0\x38\x9b\x71"
GUANO = (
    b"GUANO|Version: 1.0\nTimestamp: 2026-06-14T22:41:05.25+01:00\nTE: 10\nSamplerate: 500000\n"
    b"Loc Position: 52.61 -1.07\nNote: fen\\nsluice\nSpecies Manual ID: Pippip,Nyclei\nHumidity: 88\n"
)


def chunk(name, body, size=None):
    pad = b"\0" if size is None and len(body) % 2 else b""
    return name + struct.pack("<I", len(body) if size is None else size) + body + pad


def fmt(tag=1, channels=1, rate=384_000, bits=16):
    align = channels * ((bits + 7) // 8) & 0xFFFF
    return struct.pack("<HHIIHH", tag, channels, rate, rate * align & UNKNOWN, align, bits)


def extensible(tag, bits, valid):
    return fmt(0xFFFE, 2, 500_000, bits) + struct.pack("<HHIH", 22, valid, 3, tag) + GUID


def wav(*chunks, kind=b"RIFF", size=None):
    body = b"WAVE" + b"".join(chunks)
    return kind + struct.pack("<I", len(body) if size is None else size) + body


def ds64(riff, data, table=()):
    entries = b"".join(name + struct.pack("<Q", size) for name, size in table)
    return chunk(b"ds64", struct.pack("<QQQI", riff, data, data // 2, len(table)) + entries)


def bext(date=b"2026-06-14", time=b"22:41:05"):
    return b"Larkwater Fen".ljust(320, b"\0") + date + time + bytes(264) + b"A=PCM\r\n"


def main():
    sound = struct.pack("<16h", *(1000 * n - 8000 for n in range(16)))
    good = wav(chunk(b"fmt ", fmt()), chunk(b"data", sound))
    seeds = {
        "pcm-16": good,
        "pcm-8-odd": wav(chunk(b"fmt ", fmt(bits=8)), chunk(b"data", sound[:7])),
        "pcm-24-stereo": wav(chunk(b"fmt ", fmt(channels=2, bits=24)), chunk(b"data", sound[:30])),
        "float-32-with-nan": wav(chunk(b"fmt ", fmt(3, bits=32)), chunk(b"data", b"\xff" * 16)),
        "float-64": wav(chunk(b"fmt ", fmt(3, bits=64)), chunk(b"data", struct.pack("<2d", 0.5, 1e300))),
        "extensible-24-in-32": wav(chunk(b"fmt ", extensible(1, 32, 24)), chunk(b"data", sound)),
        "guano-before-data": wav(chunk(b"fmt ", fmt(rate=50_000)), chunk(b"guan", GUANO), chunk(b"data", sound)),
        "guano-after-data": wav(chunk(b"fmt ", fmt(rate=50_000)), chunk(b"data", sound), chunk(b"guan", GUANO)),
        "guano-not-utf8": wav(chunk(b"fmt ", fmt()), chunk(b"guan", b"\xff\xfe:\xf0\n|:\n"), chunk(b"data", sound)),
        "bext-and-info": wav(
            chunk(b"bext", bext()),
            chunk(b"fmt ", fmt()),
            chunk(b"LIST", b"INFO" + chunk(b"ICMT", b"fen") + chunk(b"ICRD", b"2026-06-14 22:41:05")),
            chunk(b"data", sound),
        ),
        "info-lying-length": wav(
            chunk(b"fmt ", fmt()), chunk(b"LIST", b"INFO" + chunk(b"ICMT", b"fen", UNKNOWN)), chunk(b"data", sound)
        ),
        "rf64": wav(ds64(92, 32), chunk(b"fmt ", fmt()), chunk(b"data", sound, UNKNOWN), kind=b"RF64", size=UNKNOWN),
        "bw64-with-table": wav(
            ds64(200, 32, [(b"guan", len(GUANO))]),
            chunk(b"fmt ", fmt()),
            chunk(b"guan", GUANO, UNKNOWN),
            chunk(b"data", sound, UNKNOWN),
            kind=b"BW64",
            size=UNKNOWN,
        ),
        "rf64-ds64-all-ones": wav(
            ds64(2**64 - 1, 2**64 - 1), chunk(b"fmt ", fmt()), chunk(b"data", sound, UNKNOWN), kind=b"RF64", size=UNKNOWN
        ),
        "data-length-zero": wav(chunk(b"fmt ", fmt()), chunk(b"data", sound, 0), size=0),
        "data-length-unknown": wav(chunk(b"fmt ", fmt()), chunk(b"data", sound, UNKNOWN)),
        "data-length-beyond-file": wav(chunk(b"fmt ", fmt()), chunk(b"data", sound, 0x7FFFFFFF)),
        "data-length-too-small": wav(chunk(b"fmt ", fmt()), chunk(b"data", sound, 2)),
        "chunk-length-hides-data": wav(chunk(b"fmt ", fmt()), chunk(b"JUNK", b"", 5000), chunk(b"data", sound)),
        "pad-byte-missing": wav(chunk(b"fmt ", fmt()), chunk(b"abcd", b"odd", 3), chunk(b"data", sound)),
        "trailing-garbage": good + b"\xff\0" * 9,
        "data-before-fmt": wav(chunk(b"data", sound), chunk(b"fmt ", fmt())),
        "65535-channels": wav(chunk(b"fmt ", fmt(channels=0xFFFF)), chunk(b"data", sound)),
        "rate-zero": wav(chunk(b"fmt ", fmt(rate=0)), chunk(b"guan", GUANO), chunk(b"data", sound)),
        "fmt-cut-off": good[:30],
        "many-empty-chunks": wav(*([chunk(b"abcd", b"")] * 5000)),
        "text": b"date,site\n2026-06-14,Larkwater Fen\n",
        "one-byte": b"R",
        "empty": b"",
    }
    SEEDS.mkdir(parents=True, exist_ok=True)
    for name, content in seeds.items():
        (SEEDS / name).write_bytes(content)


if __name__ == "__main__":
    main()
