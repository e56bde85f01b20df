//! Writing a file that its author's editor writes too. Nobody's version is lost: the new file is written beside the old
//! one, both exchange their names, and what came out is looked at. If somebody has saved in between, what came out is
//! what the edit is made in next, or it is put back.

use super::disk::{bytes, refused, settled};
use crate::cli::written::{beside, write as write_new};
use crate::preview::Refused;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// Most times that somebody may save in between, each time just then.
const TRIES: usize = 100;

/// What an edit makes of the bytes of a file; none where it is as it should be.
pub type Make<'a> = &'a mut dyn FnMut(&[u8]) -> Result<Option<Vec<u8>>, Refused>;

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
    let temporary = match written(path, new) {
        // An editor that saves by renaming may have moved the old file away a moment ago.
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Put::Changed),
        other => other.map_err(|error| refused(&error))?,
    };
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
                ErrorKind::NotFound => Ok(Put::Changed),
                _ => Err(refused(&error)),
            }
        }
    }
}

/// A new hidden file beside another, with the same permissions.
fn written(path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let about = fs::metadata(path)?;
    if !about.is_file() {
        return Err(io::Error::from(ErrorKind::IsADirectory));
    }
    if about.permissions().readonly() {
        return Err(io::Error::from(ErrorKind::PermissionDenied));
    }
    let temporary = beside(path);
    match write_new(&temporary, bytes, Some(&about)) {
        Ok(_) => Ok(temporary),
        Err(error) => {
            // It is ours, and not whole.
            let _ = fs::remove_file(&temporary);
            Err(error)
        }
    }
}

/// Looks at what came out in exchange. `out` is its name now, `expected` what should have been there, `ours` what was put
/// in its place.
fn settle(
    path: &Path,
    mut out: PathBuf,
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
            Some(new) => match written(path, &new) {
                Ok(temporary) => Ok(Some((new, temporary))),
                Err(error) => Err(refused(&error)),
            },
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::thread::sleep;
    use std::time::Duration;

    /// A file of its own for each test, in a folder of its own.
    fn file(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("plyline-disk-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder); // from an earlier run
        fs::create_dir_all(&folder).expect("a folder");
        let path = folder.join("a.md");
        fs::write(&path, "one").expect("a file");
        path
    }

    /// Adds a sign to what is in a file, while somebody else saves these texts, each just before we write; what is there
    /// in the end. An edit cannot be made in a text of `no`.
    fn written(path: &Path, mut saves: Vec<&dyn Fn()>, no: &str) -> Result<String, Refused> {
        saves.reverse();
        let done = write(path, b"one".to_vec(), &mut |base| {
            if base == no.as_bytes() {
                return Err(Refused::new("place-gone", "it is gone", "look"));
            }
            if let Some(save) = saves.pop() {
                save();
            }
            Ok(Some([base, b"!"].concat()))
        });
        done.map(|bytes| String::from_utf8(bytes).expect("text"))
    }

    /// What is in the file, when nothing is left beside it.
    fn alone(path: &Path) -> String {
        let folder = path.parent().expect("a folder");
        let names = fs::read_dir(folder)
            .expect("a folder")
            .flatten()
            .map(|it| it.file_name());
        assert_eq!(names.collect::<Vec<_>>(), ["a.md"]);
        let text = fs::read_to_string(path).expect("the file");
        fs::remove_dir_all(folder).expect("it is ours");
        text
    }

    fn rename(path: &Path, text: &str) {
        let beside = path.with_extension("new");
        fs::write(&beside, text).expect("a file");
        fs::rename(&beside, path).expect("in its place");
    }

    #[test]
    fn what_somebody_saves_just_before_we_write_is_what_the_edit_is_made_in() {
        let path = file("saved");
        let in_place = || fs::write(&path, "two").expect("a save");
        let renamed = || rename(&path, "three");
        assert_eq!(written(&path, vec![&in_place], ""), Ok("two!".to_owned()));
        fs::write(&path, "one").expect("as it was");
        assert_eq!(written(&path, vec![&renamed], ""), Ok("three!".to_owned()));
        fs::write(&path, "one").expect("as it was");
        let last = || rename(&path, "four");
        let done = written(&path, vec![&in_place, &renamed, &in_place, &last], "");
        assert_eq!(done, Ok("four!".to_owned()));
        assert_eq!(alone(&path), "four!");
    }

    #[test]
    fn where_the_edit_cannot_be_made_in_it_the_very_file_is_put_back() {
        let path = file("back");
        let renamed = || rename(&path, "two");
        let refused = written(&path, vec![&renamed], "two");
        assert_eq!(refused.map_err(|it| it.code), Err("place-gone"));
        assert_eq!(alone(&path), "two");
    }

    #[test]
    fn of_two_saves_in_between_the_later_one_is_put_back() {
        let path = file("later");
        let (first, second) = (|| rename(&path, "two"), || rename(&path, "three"));
        let refused = written(&path, vec![&first, &second], "three");
        assert_eq!(refused.map_err(|it| it.code), Err("place-gone"));
        assert_eq!(alone(&path), "three");
    }

    #[test]
    fn a_file_that_is_moved_away_for_a_moment_is_written_when_it_is_back() {
        let path = file("moved");
        let away = || {
            let (path, aside) = (path.clone(), path.with_extension("old"));
            fs::rename(&path, &aside).expect("away");
            std::thread::spawn(move || {
                sleep(Duration::from_millis(50));
                fs::remove_file(aside).expect("the old one");
                rename(&path, "two");
            });
        };
        assert_eq!(written(&path, vec![&away], ""), Ok("two!".to_owned()));
        assert_eq!(alone(&path), "two!");
    }

    #[test]
    fn a_folder_that_has_taken_its_place_stays_there() {
        let path = file("folder");
        let folder = || {
            fs::remove_file(&path).expect("it is removed");
            fs::create_dir(&path).expect("a folder");
        };
        let refused = written(&path, vec![&folder], "");
        assert_eq!(refused.map_err(|it| it.code), Err("no-file"));
        assert!(path.is_dir());
        fs::remove_dir(&path).expect("it is empty");
        fs::write(&path, "one").expect("a file");
        assert_eq!(alone(&path), "one");
    }

    #[test]
    fn a_file_that_is_being_filled_is_read_when_it_is_full() {
        let path = file("filled");
        let known = "a text that is not short\n".repeat(4);
        let new = known.replace("not", "never");
        fs::write(&path, "").expect("emptied");
        let filling = {
            let (path, new) = (path.clone(), new.clone());
            std::thread::spawn(move || {
                for end in [10, 60, new.len()] {
                    sleep(Duration::from_millis(60));
                    fs::write(&path, &new[..end]).expect("more of it");
                }
            })
        };
        assert_eq!(settled(&path, Some(known.as_bytes())), Ok(new.into_bytes()));
        filling.join().expect("it is full");
        // One that stays empty is believed in the end.
        fs::write(&path, "").expect("emptied");
        assert_eq!(settled(&path, Some(known.as_bytes())), Ok(Vec::new()));
        assert_eq!(alone(&path), "");
    }
}
