//! Tells open pages when their files change. Where the system does not tell, `wait` looks itself.

use super::held::Held;
use notify::{Event, RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::HashSet;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, Weak};
use std::thread;
use std::time::Duration;

/// How long more news of the same save are waited for.
const TOGETHER: Duration = Duration::from_millis(15);

/// The folders of open pages are watched, and no others.
pub struct Watch {
    watcher: Mutex<Option<RecommendedWatcher>>,
    pages: Arc<Mutex<Vec<Weak<Held>>>>,
}

impl Watch {
    pub fn new() -> Watch {
        let pages: Arc<Mutex<Vec<Weak<Held>>>> = Arc::default();
        let (sender, receiver) = channel();
        let watcher = notify::recommended_watcher(move |event| told(&sender, event)).ok();
        let all = Arc::clone(&pages);
        thread::spawn(move || follow(&receiver, &all));
        Watch {
            watcher: Mutex::new(watcher),
            pages,
        }
    }

    /// Watches a page.
    pub fn add(&self, held: &Arc<Held>) {
        if let Ok(mut pages) = self.pages.lock() {
            pages.push(Arc::downgrade(held));
        }
        // Of a file that is replaced only its folder tells.
        if let (Ok(mut watcher), Some(folder)) = (self.watcher.lock(), held.path.parent())
            && let Some(watcher) = watcher.as_mut()
        {
            // Watching what is watched already does no harm; what cannot be watched is looked at.
            let _ = watcher.watch(folder, RecursiveMode::NonRecursive);
        }
    }
}

fn told(sender: &Sender<PathBuf>, event: notify::Result<Event>) {
    for path in event
        .into_iter()
        .filter(|it| !it.kind.is_access())
        .flat_map(|it| it.paths)
    {
        // Nobody listens when the program ends.
        let _ = sender.send(path);
    }
}

fn follow(receiver: &Receiver<PathBuf>, pages: &Mutex<Vec<Weak<Held>>>) {
    while let Ok(first) = receiver.recv() {
        let mut paths = HashSet::from([first]);
        thread::sleep(TOGETHER);
        paths.extend(receiver.try_iter());
        let open: Vec<Arc<Held>> = match pages.lock() {
            Ok(pages) => pages.iter().filter_map(Weak::upgrade).collect(),
            Err(_) => return,
        };
        for held in open.iter().filter(|held| held.is_about(&paths)) {
            held.refresh();
        }
    }
}
