//! The builds that a search found, as CSV: one row a build, the one at hand first.

use crate::build::Edit;
use crate::commands::Failure;
use crate::commands::csv::{COLUMNS, cells, done, write, writer};
use crate::explore::find::Found;
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;

/// The builds; edits as `--set` takes them.
pub(super) fn found(bench: &Bench, found: &Found) -> Result<Vec<u8>, Failure> {
    let mut out = writer();
    let mut heading = vec!["build".to_owned()];
    heading.extend(COLUMNS.map(str::to_owned));
    heading.push("edits".to_owned());
    write(&mut out, &heading)?;
    let mut row = |name: String, reading: &Reading, edits: &[Edit]| {
        let mut row = vec![name];
        row.extend(cells(reading));
        let edits = edits.iter().map(ToString::to_string);
        row.push(edits.collect::<Vec<_>>().join("; "));
        write(&mut out, &row)
    };
    row("now".to_owned(), &Reading::of(bench.before), &[])?;
    for (place, one) in found.answers.iter().enumerate() {
        row((place + 1).to_string(), &one.reading, &one.edits)?;
    }
    done(out)
}
