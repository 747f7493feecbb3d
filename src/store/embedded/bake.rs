//! The build script: embeds what lies in `configs/` and `demo/`, parsed already, so that the
//! program need not do that at each of its starts; and has cargo build anew where a file there
//! changes or is added. It also hands the linker a script (`linking.rs`).

use std::error::Error;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

use flate2::Compression;
use flate2::write::DeflateEncoder;

#[path = "../../catalogue/reader/baked.rs"]
mod baked;
mod linking;
#[path = "../../build/mark.rs"]
#[allow(
    unreachable_pub,
    reason = "the program shows it to others, this script to nobody"
)]
mod mark;

/// The folders of data.
const FOLDERS: [&str; 2] = ["configs", "demo"];
/// The folder of the example builds, which are no part of the catalogue.
const BUILDS: &str = "demo/builds";

fn main() -> Result<(), Box<dyn Error>> {
    for shared in [
        "store/embedded/bake.rs",
        "store/embedded/linking.rs",
        "catalogue/reader/baked.rs",
        "build/mark.rs",
    ] {
        println!("cargo::rerun-if-changed=src/{shared}");
    }
    let (mut catalogue, mut examples) = (Vec::new(), Vec::new());
    for folder in FOLDERS {
        println!("cargo::rerun-if-changed={folder}");
        walk(
            Path::new(folder),
            &mut |path| match path.starts_with(BUILDS) {
                true => examples.push(path),
                false => catalogue.push(path),
            },
        )?;
    }
    let mut source = String::new();
    writeln!(source, "static EXAMPLES: &[Example] = &[")?;
    for path in &examples {
        let (name, text) = (name(path), fs::canonicalize(path)?);
        writeln!(
            source,
            "    Example {{ name: {name:?}, text: include_str!({text:?}) }},"
        )?;
    }
    writeln!(source, "];\nstatic CATALOGUE: &[Embedded] = &[")?;
    let mut texts = Vec::new();
    let mut begin = 0;
    for path in &catalogue {
        let text = fs::read_to_string(path)?;
        let end = begin + text.len();
        writeln!(
            source,
            "    Embedded {{ name: {:?}, place: ({begin}, {end}) }},",
            name(path)
        )?;
        begin = end;
        texts.push(text);
    }
    let all = || texts.iter().map(String::as_str);
    writeln!(source, "];\nstatic MARK: &str = {:?};", mark::mark(all()))?;
    let made = PathBuf::from(env::var("OUT_DIR")?);
    fs::write(made.join("embedded.rs"), source)?;
    fs::write(made.join("catalogue.baked"), baked::bake_all(all())?)?;
    let mut deflated = DeflateEncoder::new(Vec::new(), Compression::best());
    deflated.write_all(texts.concat().as_bytes())?;
    fs::write(made.join("catalogue.deflated"), deflated.finish()?)?;
    link(&made)
}

/// Hands the linker of the finished program its script, on Linux: other systems have other linkers.
fn link(made: &Path) -> Result<(), Box<dyn Error>> {
    let finished = env::var("PROFILE")? == "release";
    if finished && env::var("CARGO_CFG_TARGET_OS")? == "linux" {
        let script = made.join("linking.ld");
        fs::write(&script, linking::script())?;
        println!("cargo::rustc-link-arg-bins=-Wl,-T,{}", script.display());
    }
    Ok(())
}

/// A file as messages name it: by its path in its folder of data.
fn name(path: &Path) -> PathBuf {
    path.iter().skip(1).collect()
}

/// The files of data of a folder and of those in it, by name: an editor's file beside one of them,
/// or what a system puts into folders, is none.
fn walk(folder: &Path, found: &mut dyn FnMut(PathBuf)) -> Result<(), Box<dyn Error>> {
    let entries = fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path()));
    let mut paths = entries.collect::<Result<Vec<_>, _>>()?;
    paths.sort();
    for path in paths {
        match path.is_dir() {
            true => walk(&path, found)?,
            false if path.extension().is_some_and(|end| end == "toml") => found(path),
            false => {}
        }
    }
    Ok(())
}
