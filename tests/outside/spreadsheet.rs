//! The workbook in a general spreadsheet program (LibreOffice Calc, headless): it recalculates
//! every formula and must find this program's totals to the cent, also after a price was changed.

use std::io::{Cursor, Read as _, Write as _};
use std::path::{Path, PathBuf};

use rust_decimal::Decimal;

use super::{answer, example, run};

/// The worksheet of each table as CSV, recalculated.
fn recalculated(folder: &Path, workbook: &Path) -> Vec<(String, Vec<Vec<String>>)> {
    always_reckon(&folder.join("profile"));
    let profile = format!("-env:UserInstallation=file://{}/profile", folder.display());
    // 44 comma, 34 quote, 76 UTF-8, first line 1, every worksheet (-1).
    let filter = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1";
    let out = folder.join("out");
    std::fs::create_dir_all(&out).expect("a folder");
    let paths = [out.display().to_string(), workbook.display().to_string()];
    run(
        "soffice",
        &[
            &profile,
            "--headless",
            "--convert-to",
            filter,
            "--outdir",
            &paths[0],
            &paths[1],
        ],
    );
    let mut found: Vec<PathBuf> = (std::fs::read_dir(&out).expect("a folder"))
        .map(|entry| entry.expect("an entry").path())
        .collect();
    found.sort();
    let read = |path: &PathBuf| {
        let text = std::fs::read_to_string(path).expect("text");
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let rows = reader.records().map(|record| {
            let record = record.expect("CSV");
            record.iter().map(str::to_owned).collect()
        });
        let stem = path.file_stem().expect("a name").to_string_lossy();
        let name = stem
            .rsplit_once('-')
            .map_or(stem.as_ref(), |(_, name)| name);
        (name.to_owned(), rows.collect())
    };
    let tables = found.iter().map(read).collect();
    std::fs::remove_dir_all(&out).expect("removed");
    tables
}

/// Tells the spreadsheet program to reckon every workbook anew, whoever wrote it.
fn always_reckon(profile: &Path) {
    let user = profile.join("user");
    std::fs::create_dir_all(&user).expect("a folder");
    let settings = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<oor:items xmlns:oor=\"http://openoffice.org/2001/registry\">\n<item oor:path=\"/org.openoffice.Office.Calc/Formula/Load\"><prop oor:name=\"OOXMLRecalcMode\" oor:op=\"fuse\"><value>0</value></prop></item>\n</oor:items>\n";
    std::fs::write(user.join("registrymodifications.xcu"), settings).expect("written");
}

fn amount(text: &str) -> Decimal {
    Decimal::from_str_exact(&text.replace(',', "")).unwrap_or_else(|_| panic!("{text:?}"))
}

/// The amount beside a title in the table of totals.
fn total(tables: &[(String, Vec<Vec<String>>)], title: &str) -> Decimal {
    let (_, rows) = tables
        .iter()
        .find(|(name, _)| name == "totals")
        .expect("totals");
    let row = rows.iter().find(|row| row[0] == title).expect(title);
    amount(&row[1])
}

fn likely(build: &Path, more: &[&str]) -> Decimal {
    let path = build.display().to_string();
    let mut args = vec!["assess", &path, "--json"];
    args.extend(more);
    let json: serde_json::Value = serde_json::from_str(&answer(&args)).expect("JSON");
    amount(json["cost"]["likely"].as_str().expect("an amount"))
}

#[test]
#[ignore = "needs LibreOffice Calc: cargo test --test outside -- --ignored"]
fn a_spreadsheet_program_finds_the_same_totals() {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["pier-allrounder", "bell-foundry"] {
        let build = example(folder.path(), name);
        let workbook = folder.path().join("parts.xlsx");
        let (from, to) = (build.display().to_string(), workbook.display().to_string());
        answer(&["sheet", &from, "parts", "--output", &to, "--force"]);
        let tables = recalculated(folder.path(), &workbook);
        assert_eq!(total(&tables, "Likely cost"), likely(&build, &[]), "{name}");
    }
}

/// A price that is changed in the workbook changes its totals just as an offer of that price
/// changes the build's.
#[test]
#[ignore = "needs LibreOffice Calc: cargo test --test outside -- --ignored"]
fn totals_follow_a_price_that_is_changed_in_the_workbook() {
    let folder = tempfile::tempdir().expect("a folder");
    let build = example(folder.path(), "pier-allrounder");
    let workbook = folder.path().join("parts.xlsx");
    let (from, to) = (build.display().to_string(), workbook.display().to_string());
    answer(&["sheet", &from, "parts", "--output", &to]);
    let before = recalculated(folder.path(), &workbook);
    let (_, rows) = before
        .iter()
        .find(|(name, _)| name == "parts")
        .expect("parts");
    let place = rows.iter().position(|row| row[0].contains("profile rail"));
    let place = place.expect("a rail");
    let price = amount(&rows[place][6]);
    let wanted = price + Decimal::TEN;
    change(&workbook, &format!("G{}", place + 1), wanted);
    let after = recalculated(folder.path(), &workbook);

    // The same as an offer in the build: of the same supplier, with nothing in the price.
    let part = "rail-20";
    let text = std::fs::read_to_string(&build).expect("text");
    let quote = format!(
        "{text}\n[purchases.{part}]\nquotes = [{{ price = \"{wanted} EUR\", date = \"2026-11-25\", supplier = \"demo-guides\" }}]\n"
    );
    std::fs::write(&build, quote).expect("written");
    assert_ne!(total(&before, "Likely cost"), total(&after, "Likely cost"));
    let off = total(&after, "Likely cost") - likely(&build, &[]);
    // Insurance is half a percent of the goods, and the freight stands as a number in the book.
    assert!(off.abs() < Decimal::ONE, "{off}");
}

/// Changes the number in one cell of the worksheet of parts, in the file itself: the values
/// that formulas had stay as they were, so that only reckoning anew can find the new total.
fn change(workbook: &Path, cell: &str, value: Decimal) {
    let bytes = std::fs::read(workbook).expect("read");
    let mut old = zip::ZipArchive::new(Cursor::new(bytes)).expect("a workbook");
    let mut new = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    let mut changed = 0;
    for place in 0..old.len() {
        let mut file = old.by_index(place).expect("a file");
        let name = file.name().expect("a name").into_owned();
        let mut text = String::new();
        file.read_to_string(&mut text).expect("text");
        // Worksheets are numbered in their order; that of parts is the second.
        if name == "xl/worksheets/sheet2.xml" {
            let from = text.find(&format!("<c r=\"{cell}\"")).expect("the cell");
            let start = from + text[from..].find("<v>").expect("a value") + 3;
            let end = start + text[start..].find("</v>").expect("its end");
            text.replace_range(start..end, &value.to_string());
            changed += 1;
        }
        new.start_file(name, options).expect("a file");
        new.write_all(text.as_bytes()).expect("written");
    }
    assert_eq!(changed, 1);
    let bytes = new.finish().expect("a workbook").into_inner();
    std::fs::write(workbook, bytes).expect("written");
}
