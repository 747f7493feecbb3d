//! The dossier in a real browser (Chromium, headless): it opens from a file without a complaint
//! or a request to anywhere, shows the totals and every picture whole, keeps to a phone's width,
//! and prints on paper.

use std::path::Path;

use super::{answer, example, run};
use gantrywright::units::show::grouped;

const EXAMPLES: [&str; 2] = ["pier-allrounder", "barn-find"];

/// The pictures of every dossier.
const PICTURES: usize = 10;

/// The dossier of an example, in a folder.
fn dossier(folder: &Path, name: &str) -> String {
    let build = example(folder, name);
    let page = folder.join("dossier.html");
    let (build, path) = (build.display().to_string(), page.display().to_string());
    answer(&["sheet", &build, "dossier", "--output", &path, "--force"]);
    path
}

/// Runs the browser, with a profile of its own and its log on standard error.
fn browse(folder: &Path, more: &[&str], address: &str) -> std::process::Output {
    let profile = format!("--user-data-dir={}/profile", folder.display());
    let mut args = vec![
        "--headless",
        // Tests may run as root, where the browser's sandbox cannot.
        "--no-sandbox",
        "--disable-gpu",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--enable-logging=stderr",
        "--v=0",
        &profile,
    ];
    args.extend(more);
    args.push(address);
    run("chromium", &args)
}

/// A page's complaints and what it is refused are logged as lines of its console.
fn complaints(log: &[u8]) -> Vec<String> {
    let log = String::from_utf8_lossy(log);
    let lines = log.lines().filter(|line| line.contains("CONSOLE"));
    lines.map(str::to_owned).collect()
}

/// Adds a script that measures the page to a copy of it, whose policy is lifted for that; the
/// answer stands in the title of what the browser gives back.
fn measured(folder: &Path, page: &str, script: &str) -> String {
    let text = std::fs::read_to_string(page).expect("the page");
    let policy = text.find("<meta http-equiv").expect("a policy");
    let end = policy + text[policy..].find('>').expect("an end") + 1;
    let open = format!("{}{}", &text[..policy], &text[end..]);
    let with = format!("<script>document.title = 'measured ' + ({script})();</script></body>");
    let copy = folder.join("measured.html");
    std::fs::write(&copy, open.replace("</body>", &with)).expect("written");
    let address = format!("file://{}", copy.display());
    let done = browse(folder, &["--window-size=390,844", "--dump-dom"], &address);
    let dom = String::from_utf8_lossy(&done.stdout).into_owned();
    let (_, title) = dom.split_once("<title>measured ").expect("measured");
    let (said, _) = title.split_once("</title>").expect("a title");
    said.to_owned()
}

#[test]
#[ignore = "needs Chromium"]
fn the_page_opens_without_complaint_and_shows_totals_and_pictures() {
    for name in EXAMPLES {
        let folder = tempfile::tempdir().expect("a folder");
        let page = dossier(folder.path(), name);
        let done = browse(folder.path(), &["--dump-dom"], &format!("file://{page}"));
        let found = complaints(&done.stderr);
        assert!(found.is_empty(), "{name}: {found:#?}");
        let dom = String::from_utf8_lossy(&done.stdout);
        assert_eq!(dom.matches("<svg").count(), PICTURES, "{name}");
        let build = folder.path().join("build.toml").display().to_string();
        let json = answer(&["assess", &build, "--json"]);
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        for key in ["likely", "expected", "first_cut"] {
            let amount = grouped(json["cost"][key].as_str().expect(key));
            assert!(
                dom.contains(&format!(">{amount}<")),
                "{name}: {key} {amount}"
            );
        }
    }
}

/// What a page asks the network for. The browser's own requests have no page behind them, which
/// its log calls "not an origin".
fn asked(folder: &Path, page: &Path) -> Vec<String> {
    let log = folder.join("net.json");
    let option = format!("--log-net-log={}", log.display());
    // Whatever is asked for by name fails here, so that nothing leaves this computer.
    let refuse = "--host-resolver-rules=MAP * ~NOTFOUND";
    let address = format!("file://{}", page.display());
    browse(folder, &[&option, refuse, "--dump-dom"], &address);
    let log = std::fs::read_to_string(&log).expect("a log");
    let log: serde_json::Value = serde_json::from_str(&log).expect("JSON");
    let events = log["events"].as_array().expect("events");
    let of_pages = events.iter().filter(|event| {
        let initiator = event["params"]["initiator"].as_str();
        initiator.is_some_and(|initiator| initiator != "not an origin")
    });
    of_pages
        .map(|event| event["params"]["url"].as_str().unwrap_or("?").to_owned())
        .collect()
}

#[test]
#[ignore = "needs Chromium"]
fn the_page_asks_the_network_for_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = dossier(folder.path(), EXAMPLES[0]);
    let found = asked(folder.path(), Path::new(&page));
    assert!(found.is_empty(), "{found:#?}");
    // A page that does ask is seen.
    let asks = folder.path().join("asks.html");
    std::fs::write(&asks, "<img src=\"https://example.invalid/a.png\">").expect("written");
    let found = asked(folder.path(), &asks);
    assert_eq!(found, ["https://example.invalid/a.png"]);
    // Where it tries in spite of its policy, the policy refuses and the console says so.
    let text = std::fs::read_to_string(&page).expect("the page");
    let image = "<img src=\"https://example.invalid/a.png\"></body>";
    std::fs::write(&asks, text.replace("</body>", image)).expect("written");
    assert!(asked(folder.path(), &asks).is_empty());
    let done = browse(
        folder.path(),
        &["--dump-dom"],
        &format!("file://{}", asks.display()),
    );
    let found = complaints(&done.stderr);
    assert!(
        found
            .iter()
            .any(|line| line.contains("Content Security Policy")),
        "{found:?}"
    );
}

#[test]
#[ignore = "needs Chromium"]
fn nothing_is_wider_than_a_phone_and_no_letter_leaves_its_picture() {
    let script = "() => {
        const wide = document.documentElement.clientWidth;
        const over = [];
        if (document.documentElement.scrollWidth > wide) over.push('page');
        for (const svg of document.querySelectorAll('svg')) {
            const frame = svg.getBoundingClientRect();
            if (frame.width < 200 || frame.right > wide) over.push('picture');
            const texts = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
            texts.forEach(([said, one], place) => {
                if (one.left < frame.left - 1 || one.right > frame.right + 1) over.push(said);
                if (one.top < frame.top - 1 || one.bottom > frame.bottom + 1) over.push(said);
                for (const [other, two] of texts.slice(place + 1)) {
                    const across = Math.min(one.right, two.right) - Math.max(one.left, two.left);
                    const along = Math.min(one.bottom, two.bottom) - Math.max(one.top, two.top);
                    if (across > 1 && along > 4) over.push(said + ' on ' + other);
                }
            });
        }
        return 'at ' + (wide <= 520 ? 'a phone' : wide) + ': ' + over.join('; ');
    }";
    for name in EXAMPLES {
        let folder = tempfile::tempdir().expect("a folder");
        let page = dossier(folder.path(), name);
        let said = measured(folder.path(), &page, script);
        assert_eq!(said, "at a phone: ", "{name}");
    }
}

#[test]
#[ignore = "needs Chromium and Poppler"]
fn it_prints_on_paper_with_every_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = dossier(folder.path(), EXAMPLES[0]);
    let paper = folder.path().join("dossier.pdf");
    let option = format!("--print-to-pdf={}", paper.display());
    let more = ["--no-pdf-header-footer", option.as_str()];
    browse(folder.path(), &more, &format!("file://{page}"));
    let paper = paper.display().to_string();
    let text = run("pdftotext", &["-layout", &paper, "-"]);
    let text = String::from_utf8_lossy(&text.stdout);
    for heading in [
        "In short",
        "Pictures",
        "Parts",
        "Wiring",
        "Checklist",
        "Safety notes",
    ] {
        assert!(text.contains(heading), "{heading}");
    }
    assert!(text.matches('\u{c}').count() > 5, "a page for each sheet");
    // A page that is drawn has ink on it: a grey picture that is not all white.
    let stem = folder.path().join("page").display().to_string();
    run("pdftoppm", &["-gray", "-r", "40", "-l", "2", &paper, &stem]);
    let mut pages: Vec<_> = (std::fs::read_dir(folder.path()).expect("a folder"))
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pgm"))
        .collect();
    pages.sort();
    assert_eq!(pages.len(), 2);
    for path in pages {
        let bytes = std::fs::read(&path).expect("a picture");
        let dark = bytes.iter().skip(20).filter(|grey| **grey < 128).count();
        assert!(dark > 100, "{}: {dark} dark points", path.display());
    }
}
