#!/usr/bin/env python3
"""Speaks the demo's talk: `python3 demo-site/talk/speak.py` makes the recording and its captions of talk.txt, and
puts them into the page's folder, where they are kept, so that nobody who builds the site needs a voice.

Each line of talk.txt is one caption, an empty line a longer rest. espeak-ng speaks each line by itself, so the times
of the captions are those at which it is really spoken. Needs the Debian packages espeak-ng and lame.
"""

import pathlib
import subprocess
import tempfile
import wave

HERE = pathlib.Path(__file__).resolve().parent
PAGE = HERE.parent / "pages" / "told-by-the-tide-machine"
VOICE = ["espeak-ng", "-v", "en-gb", "-s", "170", "-g", "1"]
# Seconds of silence after a line, and where a line is empty.
REST = 0.25
LONG_REST = 0.5


def spoken(line: str, file: pathlib.Path) -> tuple[int, bytes]:
    """The samples of a line, of 16 bits, without the silence at their end, and how many a second has."""
    subprocess.run([*VOICE, "-w", file, line], check=True)
    with wave.open(str(file)) as read:
        rate, samples = read.getframerate(), read.readframes(read.getnframes())
    while samples.endswith(b"\0\0"):
        samples = samples[:-2]
    return rate, samples


def stamp(bytes_before: int, rate: int) -> str:
    """A time as WebVTT writes it."""
    seconds, rest = divmod(round(bytes_before * 1000 / (2 * rate)), 1000)
    return f"00:{seconds // 60:02}:{seconds % 60:02}.{rest:03}"


def main() -> None:
    cues, sound, rate = [], b"", 0
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "it.wav"
        for line in (HERE / "talk.txt").read_text(encoding="utf-8").splitlines():
            if not line:
                sound += bytes(2 * int(LONG_REST * rate))
                continue
            rate, samples = spoken(line, file)
            begin = len(sound)
            sound += samples
            cues.append(f"{stamp(begin, rate)} --> {stamp(len(sound), rate)}\n{line}\n")
            sound += bytes(2 * int(REST * rate))
        with wave.open(str(file), "wb") as write:
            write.setnchannels(1)
            write.setsampwidth(2)
            write.setframerate(rate)
            write.writeframes(sound)
        # One sound, 16,000 samples and 16,000 bits a second: enough for this voice, and played by every browser.
        subprocess.run(["lame", "--quiet", "-m", "m", "--resample", "16", "-b", "16", file, PAGE / "talk.mp3"], check=True)
    (PAGE / "talk.vtt").write_text("WEBVTT\n\n" + "\n".join(cues), encoding="utf-8")
    print(f"{len(sound) / (2 * rate):.0f} seconds, {len(cues)} captions")


if __name__ == "__main__":
    main()
