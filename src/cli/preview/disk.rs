//! Reading a file that somebody else may be saving just then, and what is told where it cannot be read or written.

use crate::cli::files;
use crate::preview::Refused;
use crate::text::limits;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long a file that is empty, cut short or gone may be one that is just being saved.
const SAVING: Duration = Duration::from_millis(500);

/// How long any other new text must stay the same before it is believed: longer where its end is another.
const STILL: Duration = Duration::from_millis(10);
const STILL_UNLIKE: Duration = Duration::from_millis(100);

/// The bytes of a file when nobody is in the midst of saving it; `known` is what was there before.
///
/// # Errors
/// Where it is no file, too long, or cannot be read.
pub fn settled(path: &Path, known: Option<&[u8]>) -> Result<Vec<u8>, Refused> {
    let begun = Instant::now();
    let mut last: Option<(Vec<u8>, Instant)> = None;
    loop {
        let is_late = begun.elapsed() >= SAVING;
        match bytes(path) {
            Err(error) if error.kind() != ErrorKind::NotFound || is_late || known.is_none() => {
                return Err(refused(&error));
            }
            Err(_) => last = None,
            Ok(now) => {
                let Some(known) = known.filter(|known| *known != now) else {
                    return whole(now);
                };
                let since = match &last {
                    Some((bytes, since)) if *bytes == now => *since,
                    _ => Instant::now(),
                };
                if is_late || since.elapsed() >= still(&now, known) {
                    return whole(now);
                }
                last = Some((now, since));
            }
        }
        sleep(STILL / 2);
    }
}

/// How long a text must stay the same: one that is shorter and ends otherwise looks like the beginning of another.
fn still(now: &[u8], known: &[u8]) -> Duration {
    let end = |bytes: &[u8]| bytes.trim_ascii_end().last_chunk::<8>().copied();
    match (end(now) == end(known), now.len() < known.len()) {
        (true, _) => STILL,
        (false, true) => SAVING,
        (false, false) => STILL_UNLIKE,
    }
}

fn whole(bytes: Vec<u8>) -> Result<Vec<u8>, Refused> {
    match bytes.len() > limits::TEXT_BYTES + 3 {
        true => Err(too_long()),
        false => Ok(bytes),
    }
}

/// The file has become too long.
pub fn too_long() -> Refused {
    let reason = format!(
        "this file has more than {} MB, and no more of it is read",
        limits::TEXT_BYTES >> 20
    );
    Refused::new("too-long", reason, "divide it into several files")
}

/// The bytes of a file, and of one that is too long a few more than are read.
///
/// # Errors
/// Where there is no file, or it cannot be read.
pub fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    use std::io::Read;
    // A folder, a pipe or a device can have taken its place.
    if !fs::metadata(path)?.is_file() {
        return Err(io::Error::from(ErrorKind::IsADirectory));
    }
    let mut bytes = Vec::new();
    let most = limits::TEXT_BYTES as u64 + 4;
    fs::File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// An error of the system, for people.
pub fn refused(error: &io::Error) -> Refused {
    let (code, reason, help) = match error.kind() {
        ErrorKind::NotFound => (
            "deleted",
            "this file is not there any more",
            "save it again in your editor",
        ),
        ErrorKind::IsADirectory | ErrorKind::NotADirectory => (
            "no-file",
            "there is no file of this name any more",
            "put the file back",
        ),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => (
            "disk-full",
            "the disk is full; nothing was written",
            "make room on it, and do it again",
        ),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => (
            "read-only",
            "this file or its folder may not be written",
            "allow writing to it, and do it again",
        ),
        _ => {
            let reason = format!(
                "the file cannot be read or written: {}",
                files::reason(error)
            );
            return Refused::new("disk", reason, "do it again");
        }
    };
    Refused::new(code, reason, help)
}
