use std::path::PathBuf;
use std::process::ExitCode;

use gantrywright::screen::{ColorWish, Session, run};
use gantrywright::store::{build_file, library};

fn main() -> ExitCode {
    let catalogue = match library::load(&[]) {
        Ok(catalogue) => catalogue,
        Err(error) => {
            eprintln!("{error}");
            return ExitCode::from(2);
        }
    };
    let (build, path, original) = match std::env::args_os().nth(1).map(PathBuf::from) {
        None => (Default::default(), None, None),
        Some(path) => match build_file::load(&path, &catalogue) {
            Ok(loaded) => (loaded.build, Some(path), Some(loaded.text)),
            Err(error) => {
                eprintln!("{error}");
                return ExitCode::from(2);
            }
        },
    };
    let today = jiff::civil::date(2026, 11, 25);
    run(Session { catalogue, build, path, original, today, color: ColorWish::Auto })
}
