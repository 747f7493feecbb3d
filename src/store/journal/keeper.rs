//! The thread that writes the journal. Whoever edits only sends the build: its text is made,
//! written and synced beside, so that no key waits for a disk. Idle, it sleeps.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use jiff::Timestamp;

use super::place::{BEGUN, made, make_private, stamp};
use super::{ENDING, Entry, FORMAT, Header, hash, splice::Splice};
use crate::build::Build;
use crate::store::build_file;
use crate::store::text::reason;

/// How long the end of the program waits for the disk at most.
const PATIENCE: Duration = Duration::from_secs(2);

/// A journal that has grown beyond this is begun anew with the last state alone.
const LONG: u64 = 512 * 1024;

/// What a build was opened from.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Base {
    pub(super) file: Option<PathBuf>,
    pub(super) bundle: bool,
    pub(super) text: String,
}

/// What the thread is asked.
#[derive(Debug)]
enum Order {
    /// Keep this state.
    Keep(Arc<Base>, Box<Build>),
    /// Nothing is unsaved any more.
    Clean,
    /// Say so once everything before is on the disk.
    Flush(Sender<()>),
}

/// Asks the thread that writes the journal. Its clones ask the same one.
#[derive(Clone, Debug)]
pub struct Keeper {
    orders: Option<Sender<Order>>,
    shared: Arc<Mutex<Shared>>,
}

/// What both sides know.
#[derive(Debug, Default)]
struct Shared {
    /// The journal, while there is one.
    path: Option<PathBuf>,
    /// Why it cannot be written.
    trouble: Option<String>,
}

impl Keeper {
    /// Starts the thread; its journals lie in this folder, which is made where it is missing.
    /// Without a folder nothing is kept.
    pub fn in_folder(folder: Option<PathBuf>) -> Self {
        let shared = Arc::default();
        let Some(folder) = folder else {
            return Self {
                orders: None,
                shared,
            };
        };
        let (orders, given) = mpsc::channel();
        let writer = Writer {
            folder,
            open: None,
            shared: Arc::clone(&shared),
        };
        let started = thread::Builder::new()
            .name("journal".to_owned())
            .spawn(move || work(writer, &given));
        Self {
            orders: started.is_ok().then_some(orders),
            shared,
        }
    }

    pub(super) fn note(&self, base: &Arc<Base>, build: &Build) {
        self.ask(Order::Keep(Arc::clone(base), Box::new(build.clone())));
    }

    pub(super) fn clean(&self) {
        self.ask(Order::Clean);
    }

    /// Waits until everything is on the disk, though not for ever.
    pub fn flush(&self) {
        let (done, told) = mpsc::channel();
        self.ask(Order::Flush(done));
        let _ = told.recv_timeout(PATIENCE);
    }

    /// The journal, while something is unsaved.
    pub fn path(&self) -> Option<PathBuf> {
        self.with(|shared| shared.path.clone())
    }

    pub(super) fn trouble(&self) -> Option<String> {
        self.with(|shared| shared.trouble.clone())
    }

    fn ask(&self, order: Order) {
        if let Some(orders) = &self.orders {
            // A thread that has ended said why.
            let _ = orders.send(order);
        }
    }

    fn with<T>(&self, read: impl FnOnce(&Shared) -> T) -> T {
        read(&self.shared.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// Works off what is asked. Of several states that came in meanwhile the last one counts.
fn work(mut writer: Writer, given: &Receiver<Order>) {
    while let Ok(first) = given.recv() {
        let mut pending = None;
        for order in std::iter::once(first).chain(given.try_iter()) {
            match order {
                Order::Keep(base, build) => pending = Some((base, build)),
                Order::Clean => {
                    pending = None;
                    writer.clean();
                }
                Order::Flush(done) => {
                    writer.keep(pending.take());
                    let _ = done.send(());
                }
            }
        }
        writer.keep(pending);
    }
}

struct Writer {
    folder: PathBuf,
    open: Option<Open>,
    shared: Arc<Mutex<Shared>>,
}

/// The journal that is being written; the file holds its lock.
struct Open {
    file: File,
    path: PathBuf,
    base: Arc<Base>,
    size: u64,
    /// Whether the last line may be cut off.
    torn: bool,
}

impl Writer {
    fn keep(&mut self, pending: Option<(Arc<Base>, Box<Build>)>) {
        let Some((base, build)) = pending else { return };
        let kept = self.append(&base, &build);
        let path = self.open.as_ref().map(|open| open.path.clone());
        let mut shared = self.shared.lock().unwrap_or_else(PoisonError::into_inner);
        shared.path = path;
        if let Err(error) = kept {
            shared.trouble = Some(reason(&error));
        }
    }

    fn append(&mut self, base: &Arc<Base>, build: &Build) -> io::Result<()> {
        let text = build_file::write(Some(&base.text), build);
        let entry = Entry {
            at: Timestamp::now(),
            splice: Splice::between(&base.text, &text),
        };
        let at = entry.at;
        let line = line(&entry)?;
        if let Some(open) = &mut self.open
            && *open.base == **base
            && open.size < LONG
        {
            return open.append(&line);
        }
        // What was kept before stays until this is on the disk.
        let new = Open::begin(&self.folder, base, (at, &build.title), &line)?;
        let old = self.open.replace(new);
        if let (Some(old), Some(new)) = (old, &self.open)
            && old.path != new.path
        {
            let _ = fs::remove_file(old.path);
        }
        Ok(())
    }

    fn clean(&mut self) {
        if let Some(open) = self.open.take() {
            let _ = fs::remove_file(open.path);
        }
        let mut shared = self.shared.lock().unwrap_or_else(PoisonError::into_inner);
        shared.path = None;
    }
}

impl Open {
    /// Begins a journal. It gets its name only when it is locked and on the disk: nobody sees one
    /// that could be taken for left behind.
    fn begin(
        folder: &Path,
        base: &Arc<Base>,
        (begun, title): (Timestamp, &str),
        first: &str,
    ) -> io::Result<Self> {
        make_private(folder)?;
        let pid = std::process::id();
        let header = Header {
            format: FORMAT,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            file: base.file.clone(),
            bundle: base.bundle,
            hash: hash(&base.text),
            pid,
            begun,
            title: title.to_owned(),
            text: base.text.clone(),
        };
        let written = line(&header)? + first;
        let name = format!("{}-{pid}.{ENDING}", stamp(begun));
        let (path, early) = (folder.join(&name), folder.join(format!("{BEGUN}{name}")));
        let mut file = made(&early)?;
        // Where the file system knows no locks, the process number tells.
        let _ = file.try_lock();
        let written_down = file
            .write_all(written.as_bytes())
            .and_then(|()| file.sync_all())
            .and_then(|()| fs::rename(&early, &path));
        if let Err(error) = written_down {
            let _ = fs::remove_file(&early);
            return Err(error);
        }
        if let Ok(folder) = File::open(folder) {
            let _ = folder.sync_all();
        }
        Ok(Self {
            file,
            path,
            base: Arc::clone(base),
            size: written.len() as u64,
            torn: false,
        })
    }

    fn append(&mut self, line: &str) -> io::Result<()> {
        let line = match self.torn {
            true => format!("\n{line}"),
            false => line.to_owned(),
        };
        self.torn = true;
        // The file is written where it ends; only this thread has it.
        self.file.write_all(line.as_bytes())?;
        self.file.sync_data()?;
        self.torn = false;
        self.size += line.len() as u64;
        Ok(())
    }
}

/// One line of a journal.
fn line(value: &impl serde::Serialize) -> io::Result<String> {
    let mut line = serde_json::to_string(value).map_err(io::Error::other)?;
    line.push('\n');
    Ok(line)
}
