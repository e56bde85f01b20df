//! A file that two write, its author's editor and this program. Nobody's version is lost: the new file is written beside
//! the old one, both exchange their names, and what came out is looked at. If somebody has saved in between, what came
//! out is what the edit is made in next, or it is put back.

use crate::cli::files;
use crate::cli::written::{beside, write as write_new};
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

/// Most times that somebody may save in between, each time just then.
const TRIES: usize = 100;

/// What an edit makes of the bytes of a file; none where it is as it should be.
pub type Make<'a> = &'a mut dyn FnMut(&[u8]) -> Result<Option<Vec<u8>>, Refused>;

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

fn bytes(path: &Path) -> io::Result<Vec<u8>> {
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

/// Writes what an edit makes of a file whose bytes were read. Where somebody saves in between, the edit is made again in
/// what they saved. Gives what is in the file then.
///
/// # Errors
/// Where the edit is refused, or the file cannot be written; then there is what somebody else has saved last.
pub fn write(path: &Path, base: Vec<u8>, make: Make<'_>) -> Result<Vec<u8>, Refused> {
    let mut base = base;
    for _ in 0..TRIES {
        let Some(new) = make(&base)? else {
            return Ok(base);
        };
        match put(path, &base, &new, make)? {
            Put::Done(bytes) => return Ok(bytes),
            Put::Changed => base = settled(path, Some(&base))?,
        }
    }
    Err(busy())
}

enum Put {
    /// What is in the file now.
    Done(Vec<u8>),
    /// Somebody has changed or moved the file; nothing was written.
    Changed,
}

fn busy() -> Refused {
    let reason = "the file is saved by others all the time, so nothing could be written";
    Refused::new("changed", reason, "do it again")
}

/// Puts new bytes in the place of those that were read.
fn put(path: &Path, base: &[u8], new: &[u8], make: Make<'_>) -> Result<Put, Refused> {
    let temporary = written(path, new)?;
    match exchange(&temporary, path) {
        Ok(()) => settle(path, temporary, base.to_vec(), new.to_vec(), make).map(Put::Done),
        Err(error) if is_unknown(&error) => {
            // Here the two cannot exchange their names: it is looked at for the last time just before.
            let is_same = bytes(path).is_ok_and(|now| now == base);
            let done = match is_same {
                true => fs::rename(&temporary, path),
                false => fs::remove_file(&temporary),
            };
            done.map_err(|error| {
                let _ = fs::remove_file(&temporary);
                refused(&error)
            })?;
            Ok(if is_same {
                Put::Done(new.to_vec())
            } else {
                Put::Changed
            })
        }
        Err(error) => {
            // It is ours, and nobody has seen it.
            let _ = fs::remove_file(&temporary);
            match error.kind() {
                // An editor that saves by renaming may have moved the old file away a moment ago.
                ErrorKind::NotFound => Ok(Put::Changed),
                _ => Err(refused(&error)),
            }
        }
    }
}

/// A new hidden file beside another, with the same permissions.
fn written(path: &Path, bytes: &[u8]) -> Result<std::path::PathBuf, Refused> {
    let about = fs::metadata(path).map_err(|error| refused(&error))?;
    if !about.is_file() {
        return Err(refused(&io::Error::from(ErrorKind::IsADirectory)));
    }
    if about.permissions().readonly() {
        return Err(refused(&io::Error::from(ErrorKind::PermissionDenied)));
    }
    let temporary = beside(path);
    match write_new(&temporary, bytes, Some(&about)) {
        Ok(_) => Ok(temporary),
        Err(error) => {
            let _ = fs::remove_file(&temporary);
            Err(refused(&error))
        }
    }
}

/// Looks at what came out in exchange. `out` is its name now, `expected` what should have been there, `ours` what was put
/// in its place.
fn settle(
    path: &Path,
    mut out: std::path::PathBuf,
    mut expected: Vec<u8>,
    mut ours: Vec<u8>,
    make: Make<'_>,
) -> Result<Vec<u8>, Refused> {
    for _ in 0..TRIES {
        let came = match settled(&out, Some(&expected)) {
            Ok(came) => came,
            Err(reason) => {
                // A folder, or something that cannot be read, goes back to its place.
                back(path, &out, &ours)?;
                return Err(reason);
            }
        };
        if came == expected {
            let _ = fs::remove_file(&out);
            return Ok(ours);
        }
        // Somebody has saved it between our reading and our writing.
        let next = make(&came).and_then(|new| match new {
            Some(new) => written(path, &new).map(|temporary| Some((new, temporary))),
            None => Ok(None),
        });
        match next {
            Ok(Some((new, temporary))) => {
                if let Err(error) = exchange(&temporary, path) {
                    let _ = fs::remove_file(&temporary);
                    back(path, &out, &ours)?;
                    return Err(refused(&error));
                }
                // What they saved is in what is in place now.
                let _ = fs::remove_file(&out);
                (out, expected, ours) = (temporary, ours, new);
            }
            Ok(None) => {
                back(path, &out, &ours)?;
                return Ok(came);
            }
            Err(reason) => {
                back(path, &out, &ours)?;
                return Err(reason);
            }
        }
    }
    Err(busy())
}

/// Puts back what somebody else has saved, the very file. If they have saved once more meanwhile, that one stays.
fn back(path: &Path, out: &Path, ours: &[u8]) -> Result<(), Refused> {
    let mut expected = Some(ours.to_vec());
    for _ in 0..TRIES {
        let placed = bytes(out).ok();
        match exchange(out, path) {
            Ok(()) => {}
            // The place is free: nothing is taken away by this.
            Err(error) if error.kind() == ErrorKind::NotFound => {
                return fs::rename(out, path).map_err(|error| refused(&error));
            }
            Err(error) => return Err(refused(&error)),
        }
        let came = bytes(out).ok();
        if came.is_some() && came == expected {
            let _ = fs::remove_file(out);
            return Ok(());
        }
        expected = placed;
    }
    Err(busy())
}

/// Two files exchange their names.
#[cfg(target_os = "linux")]
fn exchange(one: &Path, two: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, one, CWD, two, RenameFlags::EXCHANGE).map_err(io::Error::from)
}

#[cfg(not(target_os = "linux"))]
fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::Error::from(ErrorKind::Unsupported))
}

/// Whether the system or the file system cannot exchange names.
fn is_unknown(error: &io::Error) -> bool {
    matches!(
        error.kind(),
        ErrorKind::Unsupported | ErrorKind::InvalidInput
    )
}
