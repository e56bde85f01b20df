//! Files are written in one step: whoever reads one meanwhile, or after the program was ended, finds all
//! of the old or all of the new.

use super::files;
use std::fs::{self, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

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
        .and_then(|()| match fs::read(&target).map_err(said)? == old {
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
    let written = write(&beside, bytes, None).and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        let _ = fs::remove_file(&beside);
    }
    written.map_err(said)
}

/// The name of a file before it is in its place. Of a program that was ended it may be left.
fn beside(path: &Path) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.plyline-{}", std::process::id()))
}

/// A new file; with the permissions, and where that is allowed the owner, of another.
fn write(path: &Path, bytes: &[u8], like: Option<&Metadata>) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    let Some(like) = like else {
        return file.sync_all();
    };
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, fchown};
        // Only the system's administrator may give a file away.
        let _ = fchown(&file, Some(like.uid()), Some(like.gid()));
    }
    file.set_permissions(like.permissions())?;
    file.sync_all()
}
