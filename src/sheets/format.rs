//! How sheets are written: one file a format.
//!
//! Whatever a cell holds may come from a file that somebody else wrote. So no format lets a text
//! act: in a terminal it is no escape, in a spreadsheet no formula, in a browser no markup.

use std::path::Path;

use super::Sheet;
use crate::words::Words as _;

mod csv;
pub(in crate::sheets) mod html;
mod json;
mod markdown;
mod text;
mod xlsx;

crate::words! {
    /// The formats of sheets.
    Format {
        Text = "text", "plain text", "80 columns, for the terminal and any printer; a form feed between pages.";
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
    /// The page could not be made.
    #[error("the page cannot be written: {0}")]
    Page(String),
    /// The table could not be made.
    #[error("the table cannot be written: {0}")]
    Table(String),
}

impl Format {
    /// The ending of its files.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Csv | Self::Markdown | Self::Xlsx | Self::Html | Self::Json => self.id(),
        }
    }

    /// Whether people read it, in their units and marks. Programs read the others; a workbook
    /// computes with its cells, and shows them with the marks of whoever opens it.
    pub const fn is_for_people(self) -> bool {
        matches!(self, Self::Text | Self::Markdown | Self::Html)
    }

    /// The format that the ending of a file's name means.
    pub fn of_path(path: &Path) -> Option<Self> {
        Self::of_ending(&path.extension()?.to_string_lossy())
    }

    /// The format that an ending means, in whatever case; the dot is no part of it.
    pub fn of_ending(ending: &str) -> Option<Self> {
        match ending.to_ascii_lowercase().as_str() {
            "txt" | "text" => Some(Self::Text),
            "csv" => Some(Self::Csv),
            "md" | "markdown" => Some(Self::Markdown),
            "xlsx" => Some(Self::Xlsx),
            "html" | "htm" => Some(Self::Html),
            "json" => Some(Self::Json),
            _ => None,
        }
    }
}

/// Writes sheets in a format.
///
/// # Errors
/// [`FormatError`] where the format has no room for them.
pub fn render(format: Format, sheets: &[Sheet]) -> Result<Vec<u8>, FormatError> {
    match format {
        Format::Text => Ok(pages(sheets).into_bytes()),
        Format::Csv => csv::csv(sheets),
        Format::Markdown => Ok(markdown::markdown(sheets).into_bytes()),
        Format::Xlsx => xlsx::xlsx(sheets),
        Format::Html => html::html(sheets).map(String::into_bytes),
        Format::Json => Ok(json::json(sheets).into_bytes()),
    }
}

/// Sheets as pages of plain text.
pub(super) fn pages(sheets: &[Sheet]) -> String {
    text::text(sheets)
}

/// The lines of a sheet as plain text in so many columns (60 at least), without pages: what a
/// screen scrolls through.
pub fn lines(sheet: &Sheet, width: usize) -> Vec<String> {
    text::lines(sheet, width)
}

#[cfg(test)]
mod tests;
