// Bytes as a text for a string of a script, and back. gzip takes chance repetitions in base64 for repetitions, which makes
// it nine parts in a thousand longer than the bytes; with more letters these are rarer, and as 36 of them stand for six bits
// and 56 for seven, gzip's own code gives each back as many: three parts in a thousand less for 92 letters.

const SHORT = 36;

/** The bytes that a text holds. Its letters are those of ASCII from the space on, but for three that end a string or a script. */
export function bytesOf(text) {
  const codes = new TextEncoder().encode(text);
  const { length } = codes;
  const bytes = new Uint8Array(length);
  let at = 0;
  let held = 0;
  let count = 0; // of the bits that are held and not written
  for (let i = 0; i < length; i += 1) {
    const code = codes[i];
    const number = code - (code > 92 ? 35 : code > 60 ? 34 : code > 34 ? 33 : 32);
    if (number < SHORT) {
      held = (held << 6) | number;
      count += 6;
    } else {
      held = (held << 7) | (number + SHORT);
      count += 7;
    }
    if (count > 7) bytes[at++] = held >> (count -= 8);
  }
  return bytes.subarray(0, at);
}

/** The text that holds these bytes. */
export function written(bytes) {
  const letters = Array.from({ length: 95 }, (_, at) => String.fromCharCode(at + 32)).filter((letter) => !'"<\\'.includes(letter));
  let text = "";
  let held = 0;
  let count = 0;
  const write = () => {
    const short = (held >> (count - 6)) & 63;
    const isShort = short < SHORT;
    text += letters[isShort ? short : ((held >> (count - 7)) & 127) - SHORT];
    count -= isShort ? 6 : 7;
  };
  for (const byte of bytes) {
    held = (held << 8) | byte;
    count += 8;
    while (count >= 7) write();
  }
  // Zeros at the end: fewer than eight, which are no byte.
  if (count > 0) {
    held <<= 7;
    count += 7;
    write();
  }
  return text;
}
