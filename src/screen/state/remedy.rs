//! What lifts the warning under the cursor.

use crate::build::Edit;
use crate::explore::remedy::Unfit;
use crate::explore::told::Labelled as Loss;

/// The changes that lift a warning, and what there is to say of them.
#[derive(Clone, Debug, Default)]
pub struct Remedy {
    /// The changes; empty where none is known.
    pub edits: Vec<Edit>,
    /// What the machine loses by them alone, under which label.
    pub lost: Vec<Loss>,
    /// What else its rule names, and why that is not offered; looked at while the page of the
    /// warning is open.
    pub unfit: Vec<Unfit>,
}
