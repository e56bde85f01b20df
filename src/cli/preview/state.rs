//! All that the server knows.

use super::folder::Folder;
use super::held::Held;
use super::watch::Watch;
use crate::preview::{Gate, Path as Names, Refused};
use std::collections::HashMap;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::time::{SystemTime, UNIX_EPOCH};

/// All that the server knows.
pub struct Preview {
    pub folder: Arc<Folder>,
    pub gate: Gate,
    /// The server of a generator whose pages are shown instead of the files.
    pub through: Option<SocketAddr>,
    /// The pages that browsers have asked for.
    open: Mutex<HashMap<PathBuf, Arc<Held>>>,
    watch: Watch,
    /// Where versions count from: a page that was left open from an earlier run is at no version of this one.
    born: u64,
}

impl Preview {
    pub fn new(folder: Folder, gate: Gate, through: Option<SocketAddr>) -> Preview {
        let since = SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .unwrap_or_default();
        Preview {
            folder: Arc::new(folder),
            gate,
            through,
            open: Mutex::default(),
            watch: Watch::new(),
            born: since.as_millis() as u64,
        }
    }

    /// The page that an address means, opened if it was not yet; none if it means none.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn held(&self, names: &Names) -> Result<Option<Arc<Held>>, Refused> {
        let mut open = self
            .open
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        let Some((path, form)) = self.folder.page(names) else {
            // One that is open stays so when its file is gone: it may come back.
            let mut path = self.folder.root.clone();
            path.extend(&names.names);
            let held = open.get(&path).filter(|_| !names.is_folder);
            return Ok(held.cloned());
        };
        if let Some(held) = open.get(&path) {
            return Ok(Some(Arc::clone(held)));
        }
        let held = Held::new(path.clone(), form, Arc::clone(&self.folder), self.born)?;
        let held = Arc::new(held);
        self.watch.add(&held);
        open.insert(path, Arc::clone(&held));
        Ok(Some(held))
    }
}
