//! Times of a talk, as captions write them and as a lesson does.

/// Thousandths of a second from the start of the talk.
pub type Millis = u64;

/// A WebVTT timestamp at the start of a text, and its length in bytes: `MM:SS.mmm`, with two or more digits of
/// hours before it. Also with a comma where `comma`, as SubRip writes it. (W3C WebVTT, section 6.2 "collect a
/// WebVTT timestamp", from memory.)
pub fn timestamp(text: &str, comma: bool) -> Option<(Millis, usize)> {
    let mut at = 0;
    let (first, digits) = number(text, &mut at)?;
    let has_hours = digits != 2 || first > 59;
    colon(text, &mut at)?;
    let second = two(text, &mut at)?;
    let (hours, minutes, seconds) = match colon(text, &mut at) {
        Some(()) => (first, second, two(text, &mut at)?),
        None if has_hours => return None,
        None => (0, first, second),
    };
    let sign = text.as_bytes().get(at)?;
    if *sign != b'.' && !(comma && *sign == b',') {
        return None;
    }
    at += 1;
    let (thousandths, digits) = number(text, &mut at)?;
    if digits != 3 || minutes > 59 || seconds > 59 {
        return None;
    }
    let whole = hours
        .checked_mul(3600)?
        .checked_add(minutes * 60 + seconds)?;
    Some((whole.checked_mul(1000)?.checked_add(thousandths)?, at))
}

/// A time as people write it, and its length: `4:27`, `1:04:27`, `4:27.5`.
pub fn clock(text: &str) -> Option<(Millis, usize)> {
    let mut at = 0;
    let (first, _) = number(text, &mut at)?;
    colon(text, &mut at)?;
    let second = two(text, &mut at)?;
    let mut whole = match colon(text, &mut at) {
        Some(()) => (first.checked_mul(60)?.checked_add(second)?)
            .checked_mul(60)?
            .checked_add(two(text, &mut at)?)?,
        None => first.checked_mul(60)?.checked_add(second)?,
    };
    whole = whole.checked_mul(1000)?;
    let rest = text.get(at..).unwrap_or_default();
    if let Some(tenths) = rest.strip_prefix('.') {
        let mut unit = 100;
        for digit in tenths.bytes().take_while(u8::is_ascii_digit).take(3) {
            whole += u64::from(digit - b'0') * unit;
            unit /= 10;
            at += 1;
        }
        if unit < 100 {
            at += 1;
        }
    }
    Some((whole, at))
}

/// A time as a lesson writes it: whole seconds, `4:27`, `1:04:27`.
pub fn written(time: Millis) -> String {
    let seconds = time / 1000;
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match hours {
        0 => format!("{minutes}:{seconds:02}"),
        _ => format!("{hours}:{minutes:02}:{seconds:02}"),
    }
}

/// Digits, as a number and how many they are. At most twelve: no talk lasts longer.
fn number(text: &str, at: &mut usize) -> Option<(u64, usize)> {
    let rest = text.get(*at..)?;
    let count = rest.bytes().take_while(u8::is_ascii_digit).count();
    let digits = rest.get(..count).filter(|_| count <= 12)?;
    *at += count;
    Some((digits.parse().ok()?, count))
}

fn two(text: &str, at: &mut usize) -> Option<u64> {
    number(text, at)
        .filter(|(value, digits)| *digits == 2 && *value < 60)
        .map(|(value, _)| value)
}

fn colon(text: &str, at: &mut usize) -> Option<()> {
    (text.as_bytes().get(*at) == Some(&b':')).then(|| *at += 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_timestamp_is_read_as_webvtt_says() {
        for (text, wanted) in [
            ("00:11.000", Some(11_000)),
            ("01:00:11.250", Some(3_611_250)),
            ("100:00:00.000", Some(360_000_000)),
            ("0:11.000", None),     // minutes have two digits
            ("00:60.000", None),    // seconds end at 59
            ("00:11.00", None),     // three digits after the point
            ("00:11", None),        // and they must be there
            ("61:11.000", None),    // above 59 it is hours, and then the minutes are missing
            ("00:00:11,000", None), // a comma is SubRip's
            ("99999999999999999999:00:00.000", None),
        ] {
            assert_eq!(timestamp(text, false).map(|it| it.0), wanted, "{text}");
        }
        assert_eq!(timestamp("00:00:11,000 x", true), Some((11_000, 12)));
    }

    #[test]
    fn a_time_that_people_write_is_read_and_written() {
        for (text, wanted) in [("4:27", 267_000), ("1:04:27", 3_867_000), ("0:05", 5_000)] {
            assert_eq!(clock(text), Some((wanted, text.len())));
            assert_eq!(written(wanted), text);
        }
        assert_eq!(clock("4:27.5]"), Some((267_500, 6)));
        assert_eq!(clock("4:7"), None);
    }
}
