#!/usr/bin/env python3
"""Has other people's readers look at `wav_labelled.wav`, which our writer made from `wav_guano_384k_x1.wav`.

Run with: guano 1.0.16, libsndfile 1.2.2 through soundfile 0.14.0, scipy 1.17.1, numpy 2.4.6, Python 3.11.

    python3 tests/data/check_labelled_copy.py [copy]

`tests/tests/labelled_copy.rs` holds the writer to the same bytes.
"""

import json
import pathlib
import struct
import sys
import warnings

import guano
import numpy
import scipy.io.wavfile
import soundfile

HERE = pathlib.Path(__file__).parent
ORIGINAL = HERE / "wav_guano_384k_x1.wav"
COPY = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "wav_labelled.wav"


def chunks(path):
    """Ids and bodies, by the letter of the standard: every length right, every odd body padded."""
    data = path.read_bytes()
    magic, size, form = struct.unpack("<4sI4s", data[:12])
    assert (magic, form, size) == (b"RIFF", b"WAVE", len(data) - 8)
    at = 12
    while at < len(data):
        name, size = struct.unpack("<4sI", data[at : at + 8])
        yield name, data[at + 8 : at + 8 + size]
        at += 8 + size + size % 2
    assert at == len(data)


def main():
    before, after = guano.GuanoFile(str(ORIGINAL)), guano.GuanoFile(str(COPY))
    names = [name.strip() for name in after["Species Manual ID"].split(",")]
    assert names == ["Pippip", "Nyclei", "Fen bat; small", "Fen bat? low"], names
    assert after["Dusklens|Version"] == "0.1.0"
    labels = json.loads(after["Dusklens|Labels"])
    assert [label["text"] for label in labels] == ["Fen bat, small", "Fen bat? low"]
    assert labels[0]["note"] == 'steep | then level:\n"like a hook", 蝙蝠'
    assert labels[1]["about"][0]["end_s"] == 0.0005123456789
    same = [(key, value) for key, value in before.items() if key != "Species Manual ID"]
    kept = [(key, value) for key, value in after.items() if not key.startswith("Dusklens|") and key != "Species Manual ID"]
    assert same == kept, (same, kept)

    for dtype in ("int16", "float64"):
        was, rate = soundfile.read(ORIGINAL, dtype=dtype, always_2d=True)
        now, rate_now = soundfile.read(COPY, dtype=dtype, always_2d=True)
        assert rate == rate_now and numpy.array_equal(was, now)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", scipy.io.wavfile.WavFileWarning)  # it knows no `guan`
        was, now = scipy.io.wavfile.read(ORIGINAL), scipy.io.wavfile.read(COPY)
    assert was[0] == now[0] and numpy.array_equal(was[1], now[1])

    others = [chunk for chunk in chunks(COPY) if chunk[0] != b"guan"]
    assert others == [chunk for chunk in chunks(ORIGINAL) if chunk[0] != b"guan"]
    print("all readers agree:", ", ".join(name.decode() for name, _ in chunks(COPY)))


main()
