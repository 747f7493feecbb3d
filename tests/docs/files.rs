//! Every file that a page shows is read by the reader for which it is meant.

use gantrywright::catalogue::reader;
use std::collections::BTreeSet;

use gantrywright::money::Currency;
use gantrywright::store::quotes::{self, Outcome, Terms};
use gantrywright::store::state::Remembered;
use gantrywright::store::{build_file, bundle, journal, library, settings};

use crate::bench::Bench;
use crate::page::{Block, all};

/// What reads a file of this name; overlays stand in a folder.
fn read(name: &str, text: &str) -> Result<&'static str, String> {
    let catalogue = crate::common::catalogue();
    let say = |error: gantrywright::store::FileError| error.to_string();
    if name.contains('/') {
        let bench = Bench::new();
        let path = bench.write(name, text);
        let folder = path.parent().expect("a folder").to_owned();
        return library::load(&[folder]).map(|_| "overlay").map_err(say);
    }
    match name {
        "settings.toml" => settings::read(text, name).map(|_| "settings").map_err(say),
        "state.toml" => {
            let read = reader::read::<Remembered>(text);
            let read = read.map_err(|error| error.to_string())?;
            assert!(read.last.is_some() && !read.pages.is_empty(), "{text}");
            Ok("state")
        }
        "bundle.toml" => {
            let read = bundle::read(text, name).map_err(say)?.ok_or("no bundle")?;
            let catalogue = library::over_built_in(read.layers.clone()).map_err(say)?;
            build_file::read(&read.build, name, &catalogue).map_err(say)?;
            Ok("bundle")
        }
        "shed.jsonl" => {
            // Its first line is long: what it holds stands in a table.
            let first = "{\"format\":1,\"version\":\"0\",\"file\":null,\"bundle\":false,\
                         \"hash\":\"\",\"pid\":1,\"begun\":\"2026-11-26T18:40:35Z\",\"title\":\"\",\
                         \"text\":\"format = 1\\n\\n[extras]\\n\"}\n";
            let bench = Bench::new();
            let path = bench.write(name, format!("{first}{text}"));
            let read = journal::Journal::read(&path).map_err(say)?;
            build_file::read(&read.text, name, &catalogue).map_err(say)?;
            Ok("journal")
        }
        csv if csv.ends_with(".csv") => {
            let terms = Terms {
                catalogue: &catalogue,
                destination: &catalogue.destinations["destination-eu"],
                currency: Currency::EUR,
                today: crate::common::today(),
            };
            let rows = quotes::read(text, name, &terms).map_err(say)?;
            let matched = |row: &quotes::Row| matches!(row.outcome, Outcome::Matched(..));
            assert!(!rows.is_empty() && rows.iter().all(matched), "{rows:?}");
            Ok("quotes")
        }
        _ => {
            let build = build_file::read(text, name, &catalogue).map_err(say)?;
            gantrywright::assessment::assess(&catalogue, &build, crate::common::today())
                .map_err(|error| error.to_string())?;
            Ok("build")
        }
    }
}

fn is_data(block: &Block) -> bool {
    ["toml", "csv", "jsonl"].contains(&block.info.as_str())
}

#[test]
fn every_file_on_a_page_is_read() {
    let mut seen = BTreeSet::new();
    for page in all() {
        // There a record stands with keys left out.
        if page.name == "DEVELOPERS.md" {
            continue;
        }
        for block in page.blocks().iter().filter(|block| is_data(block)) {
            let name = block.file.as_deref();
            let name = name.unwrap_or_else(|| panic!("{}: no name:\n{}", page.name, block.text));
            match read(name, &block.text) {
                Ok(kind) => seen.insert(kind),
                Err(error) => panic!("{}: {error}", page.name),
            };
        }
    }
    let kinds = [
        "build", "bundle", "journal", "overlay", "quotes", "settings", "state",
    ];
    assert_eq!(seen, BTreeSet::from(kinds));
}
