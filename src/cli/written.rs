//! Files are written in one step: whoever reads one meanwhile, or after the program was ended, finds all
//! of the old or all of the new.

use super::files;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Puts new bytes in the place of a file's, whose bytes must still be the old ones.
///
/// # Errors
/// Why it cannot be written.
pub fn replace(path: &Path, old: &[u8], new: &[u8]) -> Result<(), String> {
    let said = |error: io::Error| files::reason(&error);
    // Of a link its target is written, so that it stays a link.
    let target = fs::canonicalize(path).map_err(said)?;
    let about = fs::metadata(&target).map_err(said)?;
    if !about.is_file() {
        return Err("this is no ordinary file".to_owned());
    }
    if about.permissions().readonly() {
        return Err("the file is write-protected".to_owned());
    }
    let beside = beside(&target);
    let written = write(&beside, new, Some(&about))
        .map_err(said)
        .and_then(|_held| match fs::read(&target).map_err(said)? == old {
            true => fs::rename(&beside, &target).map_err(said),
            false => Err("someone else has changed the file meanwhile".to_owned()),
        });
    if written.is_err() {
        // It is ours and no longer needed; if it was never made, there is none.
        let _ = fs::remove_file(&beside);
    }
    written
}

/// Writes a file, in a folder that is made where it is missing; the same bytes are not written again.
///
/// # Errors
/// Why it cannot be written.
pub fn put(path: &Path, bytes: &[u8]) -> Result<(), String> {
    if fs::read(path).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    let said = |error: io::Error| files::reason(&error);
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(said)?;
    }
    let beside = beside(path);
    let written = write(&beside, bytes, None).and_then(|_held| fs::rename(&beside, path));
    if written.is_err() {
        let _ = fs::remove_file(&beside);
    }
    written.map_err(said)
}

/// What the name of a file has before it is in its place, between its own name and numbers.
const BESIDE: &str = ".plyline-";

/// The name of a file before it is in its place. Of a program that was ended it may be left.
pub fn beside(path: &Path) -> PathBuf {
    // Two pages that show one picture write it at the same time.
    static MADE: AtomicUsize = AtomicUsize::new(0);
    let made = MADE.fetch_add(1, Ordering::Relaxed);
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}{BESIDE}{}-{made}", std::process::id()))
}

/// Whether a name is that of a file that is not in its place yet.
pub fn is_beside(name: &str) -> bool {
    let numbers = name.strip_prefix('.').and_then(|it| it.rsplit_once(BESIDE));
    numbers.is_some_and(|(_, it)| it.bytes().all(|it| it.is_ascii_digit() || it == b'-'))
}

/// Takes away the files that programs have left below a folder because they were ended while they
/// wrote. Those of programs that run are locked, and stay.
pub fn tidy(folder: &Path) {
    let mut waiting = vec![folder.to_owned()];
    while let Some(folder) = waiting.pop() {
        // What cannot be read is not written to either, and that is told there.
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let Ok(kind) = entry.file_type() else {
                continue;
            };
            if kind.is_dir() {
                waiting.push(entry.path());
            } else if kind.is_file() && is_beside(&entry.file_name().to_string_lossy()) {
                let file = File::open(entry.path());
                if file.is_ok_and(|it| it.try_lock().is_ok()) {
                    // One that stays does no harm.
                    let _ = fs::remove_file(entry.path());
                }
            }
        }
    }
}

/// A new file; with the permissions, and where that is allowed the owner, of another. While it is
/// held, it is locked.
pub fn write(path: &Path, bytes: &[u8], like: Option<&Metadata>) -> io::Result<File> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    // Some file systems have no locks, and there nothing is taken away.
    let _ = file.try_lock();
    file.write_all(bytes)?;
    let Some(like) = like else {
        file.sync_all()?;
        return Ok(file);
    };
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        // Only the system's administrator may give a file away.
        let _ = fchown(&file, Some(like.uid()), Some(like.gid()));
    }
    file.set_permissions(like.permissions())?;
    file.sync_all()?;
    Ok(file)
}
