"""Captions of timed words: WebVTT plain, with a time at every word, with every line twice; SubRip; stamped text.

A word is `{"text", "begin", "end"}`, times in seconds. WebVTT is written after the W3C's specification (WebVTT 1);
SubRip has no specification, its form is common practice.
"""
import zlib

# Seconds that a cue lasts, least and most; seconds between two stamps of a stamped text, least and most.
CUE = (2.0, 4.0)
STAMP = (27.0, 36.0)
FORMS = {"plain": "vtt", "words": "words.vtt", "twice": "twice.vtt", "srt": "srt", "stamped": "txt"}


def stamp(seconds, digits=0):
    """`m:ss`, as in `Hear:`, with so many digits after the second."""
    whole = round(seconds, digits)
    hours, minutes = divmod(int(whole // 60), 60)
    rest = f"{whole % 60:0{2 if not digits else 3 + digits}.{digits}f}"
    return f"{hours}:{minutes:02}:{rest}" if hours else f"{minutes}:{rest}"


def clock(seconds, point="."):
    """A timestamp of WebVTT (`.`) or SubRip (`,`)."""
    milli = round(seconds * 1000)
    return f"{milli // 3600000:02}:{milli // 60000 % 60:02}:{milli // 1000 % 60:02}{point}{milli % 1000:03}"


def cues(words, least=CUE[0], most=CUE[1]):
    """The words in runs of 2 to 4 s, cut wherever the time is up, in the midst of a move too."""
    runs, run = [], []
    for word in words:
        wanted = least + (zlib.crc32(f"cue {len(runs)}".encode()) % 1000) / 1000 * (most - 0.5 - least)
        if run and word["end"] - run[0]["begin"] > wanted:
            runs.append(run)
            run = []
        run.append(word)
    return runs + [run] if run else runs


def said(words):
    return " ".join(word["text"] for word in words)


def escaped(text):
    """WebVTT 1, section 4.2.2: `&` and `<` are written as escapes in a cue's text."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def text(words, form):
    """The captions of some timed words, in one of FORMS."""
    if form == "stamped":
        return stamped(words)
    runs = cues(words)
    ends = [after[0]["begin"] for after in runs[1:]] + [runs[-1][-1]["end"]]
    rows = [] if form == "srt" else ["WEBVTT", ""]
    for at, (run, end) in enumerate(zip(runs, ends)):
        point = "," if form == "srt" else "."
        if form == "srt":
            rows.append(str(at + 1))
        rows.append(f"{clock(run[0]['begin'], point)} --> {clock(end, point)}")
        if form == "words":
            rows.append(escaped(run[0]["text"]) + "".join(
                f" <{clock(word['begin'])}>{escaped(word['text'])}" for word in run[1:]))
        elif form == "twice":
            # Roll-up: the line before stands above the new one, so each line is shown in two cues.
            rows += ([escaped(said(runs[at - 1]))] if at else []) + [escaped(said(run))]
        else:
            rows.append(said(run) if form == "srt" else escaped(said(run)))
        rows.append("")
    return "\n".join(rows)


def stamped(words):
    """Text with `[m:ss]` about every 30 s, cut at the end of a sentence where one is near."""
    rows, run = [], []
    for word in words:
        passed = word["begin"] - run[0]["begin"] if run else 0
        if run and (passed > STAMP[1] or passed > STAMP[0] and run[-1]["text"][-1] in ".?!"):
            rows.append(run)
            run = []
        run.append(word)
    return "\n\n".join(f"[{stamp(int(run[0]['begin']))}] {said(run)}" for run in rows + [run]) + "\n"
