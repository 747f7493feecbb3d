//! The file that a build is of: what it held, who else works on it, what moved since.

use std::path::PathBuf;
use std::sync::Arc;

use crate::assessment::moved::Moved;
use crate::build::Build;
use crate::screen::theirs::Theirs;
use crate::store::bundle::Bundle;

/// The file that a build is of, and what is known of it.
pub struct OpenFile {
    /// Where it lies; none for a build that was never saved.
    pub path: Option<PathBuf>,
    /// Its text as it was read or last saved.
    pub original: Option<String>,
    /// The bundle that it is; none where it is a build file.
    pub bundle: Option<Bundle>,
    /// Who else works on it, in words: then nothing is saved under its name.
    pub held: Option<String>,
    /// What somebody else wrote to it meanwhile, until it is saved or taken.
    pub theirs: Option<Arc<Theirs>>,
    /// What moved since it was saved, until it is saved again.
    pub moved: Option<Moved>,
    /// The build as it was read or last saved.
    pub saved: Build,
    /// The folder that file names are read from, where it is known.
    pub folder: Option<PathBuf>,
}
