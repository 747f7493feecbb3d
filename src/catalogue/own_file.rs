//! Files of parts that are not built in. Their texts are kept, since a part of one's own is changed
//! as it stands in its file.

/// A file that was laid over what is built in.
#[derive(Debug, PartialEq, Eq)]
pub struct OwnFile {
    /// How messages call it.
    pub name: String,
    /// What it says.
    pub text: String,
}
