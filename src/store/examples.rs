//! The example builds that come with the program.

use super::embedded;
use super::{FileError, build_file};
use crate::build::{Build, nearest};
use crate::catalogue::Catalogue;
use crate::order::Order as _;

/// An example build.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// Its name on the command line: the name of its file without the ending.
    pub name: &'static str,
    file: embedded::Example,
}

impl Example {
    /// Reads the build.
    ///
    /// # Errors
    /// As for any build file; a test reads each example with the built-in catalogue.
    pub fn build(&self, catalogue: &Catalogue) -> Result<Build, FileError> {
        build_file::read(
            self.text(),
            &format!("built-in {}", self.file.name),
            catalogue,
        )
    }

    /// Its text.
    pub fn text(&self) -> &'static str {
        self.file.text
    }
}

/// Every example, in the order of their names.
pub fn all() -> Vec<Example> {
    let mut found: Vec<Example> = embedded::examples()
        .iter()
        .filter_map(|file| {
            Some(Example {
                name: name_of(file.name)?,
                file: *file,
            })
        })
        .collect();
    found.order_by_key(|example| example.name);
    found
}

/// The example of a name.
///
/// # Errors
/// Names the nearest.
pub fn find(name: &str) -> Result<Example, String> {
    let all = all();
    all.iter()
        .find(|example| example.name == name)
        .copied()
        .ok_or_else(|| {
            let hint = nearest::hint(name, all.iter().map(|example| example.name));
            format!("there is no example {name:?}{hint}")
        })
}

/// `builds/shed.toml` is called `shed`.
fn name_of(path: &'static str) -> Option<&'static str> {
    path.rsplit('/').next()?.strip_suffix(".toml")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::library;

    #[test]
    fn every_example_can_be_read() {
        let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
        for example in all() {
            let build = example
                .build(&catalogue)
                .unwrap_or_else(|error| panic!("{error}"));
            assert!(
                !build.title.is_empty() && !build.note.is_empty(),
                "{}",
                example.name
            );
        }
        let error = find("no such example at all").expect_err("no such");
        assert!(error.contains("there is no example"), "{error}");
    }

    #[test]
    fn the_name_is_that_of_the_file() {
        assert_eq!(name_of("builds/shed-router.toml"), Some("shed-router"));
        assert_eq!(name_of("builds/readme.md"), None);
    }
}
