#!/usr/bin/env python3
"""Writes the small WAV files that `tests/tests/recording_*.rs` read, with other people's writers.

Made with: libsndfile 1.2.2 through soundfile 0.14.0, SoX 14.4.2, guano 1.0.16, numpy 2.4.6,
Python 3.11. Run in an environment that has them; it writes into the folder beside it:

    python3 tests/data/make_wav_fixtures.py

Every file holds the same 240 frames: a falling tone on the left, a rising one on the right.
`wav_<name>.txt` holds what the writer's own library reads back from the file, a line a frame, so
that the expected samples do not come from the code that is tested.
"""

import pathlib
import subprocess

import guano
import numpy
import soundfile

HERE = pathlib.Path(__file__).parent
FRAMES = 240
RATE = 384_000


def tones(channels):
    """A tone that sweeps across a third of the band on each channel, 0.8 of full scale."""
    t = numpy.arange(FRAMES) / FRAMES
    left = 0.8 * numpy.sin(2 * numpy.pi * (60 * t - 20 * t**2))
    right = 0.8 * numpy.sin(2 * numpy.pi * (20 * t + 20 * t**2))
    return numpy.stack([left, right], axis=1)[:, :channels]


def expect(path):
    samples, _ = soundfile.read(path, dtype="float64", always_2d=True)
    lines = [" ".join(f"{value:.17g}" for value in frame) for frame in samples]
    path.with_suffix(".txt").write_text("\n".join(lines) + "\n")


def with_libsndfile():
    for name, form, subtype, rate, channels in [
        ("sndfile_pcm_u8", "WAV", "PCM_U8", RATE, 1),
        ("sndfile_pcm_16", "WAV", "PCM_16", RATE, 1),
        ("sndfile_pcm_24", "WAV", "PCM_24", 500_000, 2),
        ("sndfile_pcm_32", "WAV", "PCM_32", RATE, 1),
        ("sndfile_float", "WAV", "FLOAT", RATE, 1),
        ("sndfile_double", "WAV", "DOUBLE", RATE, 2),
        ("sndfile_wavex_16", "WAVEX", "PCM_16", 256_000, 2),
        ("sndfile_wavex_24", "WAVEX", "PCM_24", RATE, 1),
        ("sndfile_rf64_16", "RF64", "PCM_16", 500_000, 1),
    ]:
        path = HERE / f"wav_{name}.wav"
        soundfile.write(path, tones(channels), rate, format=form, subtype=subtype)
        expect(path)


def with_sox():
    """SoX writes 24 bits as an extensible format."""
    source = HERE / "wav_sndfile_double.wav"
    path = HERE / "wav_sox_24_stereo.wav"
    subprocess.run(["sox", "-D", source, "-b", "24", path], check=True)
    expect(path)


def with_guano(rate, expansion):
    path = HERE / f"wav_guano_{rate // 1000}k_x{expansion}.wav"
    soundfile.write(path, tones(1), rate // expansion, format="WAV", subtype="PCM_16")
    expect(path)
    file = guano.GuanoFile(str(path))
    file["GUANO|Version"] = 1.0
    file["Timestamp"] = guano.parse_timestamp("2026-06-14T22:41:05+01:00")
    file["Make"] = "Alder Works"
    file["Model"] = "Heron 2"
    file["Samplerate"] = rate
    file["TE"] = expansion
    file["Length"] = FRAMES / rate
    file["Loc Position"] = (52.61, -1.07)
    file["Loc Elevation"] = 71.5
    file["Temperature Ext"] = 14.5
    file["Humidity"] = 88.0
    file["Note"] = "by the sluice\nsecond night, gärde"
    file["Species Manual ID"] = "Pippip, Nyclei"
    file["Tags"] = "fen, water"
    file["User", "Observer"] = "W. Sedge: warden"
    file.write(make_backup=False)


def other_kinds():
    """Files that are refused by their right name."""
    for form, subtype in [("W64", "PCM_16"), ("FLAC", "PCM_16"), ("AIFF", "PCM_16")]:
        path = HERE / f"other_{form.lower()}.bin"
        soundfile.write(path, tones(1)[:16], RATE, format=form, subtype=subtype)


def main():
    with_libsndfile()
    other_kinds()
    with_sox()
    for rate in (384_000, 500_000):
        for expansion in (1, 10):
            with_guano(rate, expansion)


if __name__ == "__main__":
    main()
