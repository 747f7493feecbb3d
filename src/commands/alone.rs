//! The usual start, a file or nothing: what it says is known without making the table of all
//! commands and options first, which would be a twentieth of the way to the first frame.

use std::ffi::OsString;

use clap::Subcommand as _;

use super::{BuildArgs, Cli, Command, log::LogArgs};

/// What arguments say that are a file, or nothing, behind the name of the program; none where they
/// are anything else.
pub(super) fn alone(arguments: &[OsString]) -> Option<Cli> {
    let file = match arguments {
        [_] => None,
        [_, file] => Some(file),
        _ => return None,
    };
    let is_more = |file: &OsString| {
        let bytes = file.as_encoded_bytes();
        // The library adds the command that tells of commands by itself.
        let command = file == "help" || file.to_str().is_some_and(Command::has_subcommand);
        bytes.is_empty() || bytes.starts_with(b"-") || command
    };
    if file.is_some_and(is_more) {
        return None;
    }
    Some(Cli {
        file: file.map(Into::into),
        plain: false,
        log: LogArgs::default(),
        common: BuildArgs::default(),
        command: None,
    })
}

#[cfg(test)]
mod tests {
    use clap::{CommandFactory as _, Parser as _};

    use super::*;

    fn arguments(words: &[&str]) -> Vec<OsString> {
        let name = std::iter::once("gantrywright");
        name.chain(words.iter().copied())
            .map(OsString::from)
            .collect()
    }

    #[test]
    fn a_file_alone_is_what_the_table_of_options_makes_of_it() {
        for words in [
            &[][..],
            &["router.toml"],
            &["a folder/é.toml"],
            &["demos"],
            &["asess"],
        ] {
            let arguments = arguments(words);
            let parsed = Cli::try_parse_from(&arguments).expect("arguments");
            let known = alone(&arguments).expect("a file or nothing");
            assert_eq!(format!("{known:?}"), format!("{parsed:?}"), "{words:?}");
        }
    }

    #[test]
    fn all_else_is_left_to_the_table() {
        let others = [
            &["-"][..],
            &["--plain"],
            &["-h"],
            &[""],
            &["a", "b"],
            &["help"],
        ];
        for words in others {
            assert!(alone(&arguments(words)).is_none(), "{words:?}");
        }
        let commands = Cli::command();
        assert!(commands.get_subcommands().count() > 20);
        for command in commands.get_subcommands() {
            assert!(alone(&arguments(&[command.get_name()])).is_none());
        }
    }
}
