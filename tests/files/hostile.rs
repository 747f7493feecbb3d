//! Files that somebody made to do harm, or that are something else than a file: each is refused
//! with one message and in bounded memory, nothing hangs, and nothing is written.
#![cfg(unix)]

use std::ffi::OsStr;
use std::fs;
use std::process::{Command, Output, Stdio};

use crate::bench::Bench;
use nix::sys::stat::Mode;
use nix::unistd::mkfifo;

/// The address space that a run is given, in KiB: what reading takes, and nothing endless.
const MEMORY: u32 = 600_000;

/// What the program says with so much memory. What hangs is ended, with the exit code 124.
fn run<S: AsRef<OsStr>>(bench: &Bench, args: &[S]) -> Output {
    let program = bench.program();
    let mut shell = Command::new("sh");
    shell
        .args([
            "-c",
            &format!("ulimit -v {MEMORY}; exec timeout 30 \"$0\" \"$@\""),
        ])
        .arg(program.get_program())
        .args(args)
        .stdin(Stdio::null())
        .current_dir(bench.path(""));
    for (name, value) in program.get_envs() {
        match value {
            Some(value) => shell.env(name, value),
            None => shell.env_remove(name),
        };
    }
    shell.output().expect("a run")
}

/// Runs the program on what must be refused; gives the one message.
fn refused<S: AsRef<OsStr>>(bench: &Bench, args: &[S]) -> String {
    let said: Vec<_> = args.iter().map(|arg| arg.as_ref()).collect();
    let output = run(bench, args);
    let message = String::from_utf8(output.stderr).expect("text");
    assert_eq!(output.status.code(), Some(2), "{said:?}: {message}");
    assert!(output.stdout.is_empty(), "{said:?}");
    // One of the user's own folder stops everything: how to go on stands below.
    let more = message.lines().skip(1);
    let mut more = more.filter(|line| !line.starts_with("Every command reads this file"));
    assert_eq!(more.next(), None, "{said:?}: {message}");
    message
}

fn says<S: AsRef<OsStr>>(bench: &Bench, args: &[S], want: &str) {
    let message = refused(bench, args);
    assert!(message.contains(want), "{want:?} is not in {message}");
}

/// A pipe that nobody ever writes to.
fn pipe(bench: &Bench, name: &str) {
    let path = bench.path(name);
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    mkfifo(&path, Mode::S_IRWXU).expect("a pipe");
}

#[test]
fn what_is_no_ordinary_file_is_refused_wherever_one_is_read() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    bench.write("q.csv", "part,price\n");
    bench.write("folder/in", "");
    pipe(&bench, "pipe.toml");
    pipe(&bench, "own/parts.toml");
    fs::create_dir(bench.path("linked")).expect("made");
    std::os::unix::fs::symlink("/dev/zero", bench.path("linked/x.toml")).expect("linked");
    let no_file = "a pipe or a device, no ordinary file";
    for file in ["pipe.toml", "/dev/zero", "/dev/urandom", "/dev/null"] {
        says(&bench, &["assess", file], no_file);
        says(&bench, &["sheet", file, "parts"], no_file);
        says(&bench, &["--plain", file], no_file);
        says(&bench, &["quotes", "b.toml", file], no_file);
        says(&bench, &["compare", "b.toml", file], no_file);
    }
    says(&bench, &["quotes", "b.toml", "folder"], "this is a folder");
    says(&bench, &["assess", "b.toml", "--configs", "own"], no_file);
    says(
        &bench,
        &["assess", "b.toml", "--configs", "linked"],
        no_file,
    );
    says(
        &bench,
        &["parts", "--configs", "pipe.toml"],
        "this is no folder",
    );
    // The user's own folder, and the settings in it.
    pipe(&bench, "config/gantrywright/mine.toml");
    says(&bench, &["assess", "b.toml"], no_file);
    fs::remove_file(bench.path("config/gantrywright/mine.toml")).expect("removed");
    pipe(&bench, "config/gantrywright/settings.toml");
    let output = run(&bench, &["assess", "b.toml"]);
    assert_ne!(output.status.code(), Some(124), "it was ended by `timeout`");
    let told = String::from_utf8(output.stderr).expect("text");
    assert!(told.contains("settings.toml"), "{told}");
}

#[test]
fn what_is_no_text_is_refused_wherever_one_is_read() {
    let bench = Bench::new();
    bench.write("good.toml", "format = 1\n");
    for (bytes, want) in [
        (&b"format = 1 # \xff\n"[..], "no UTF-8 text at byte 13"),
        (b"format = 1 # \xed\xa0\x80\n", "no UTF-8 text at byte 13"),
        (b"format = 1 # \xc0\x80\n", "no UTF-8 text at byte 13"),
        (b"format = 1 # \0\n", "zero byte at byte 13"),
        (b"\xff\xfef\0o\0", "zero byte at byte 3"),
    ] {
        for file in ["b.toml", "q.csv", "own/x.toml"] {
            bench.write(file, bytes);
        }
        says(&bench, &["assess", "b.toml"], want);
        says(&bench, &["quotes", "good.toml", "q.csv"], want);
        says(&bench, &["assess", "good.toml", "--configs", "own"], want);
        bench.write("config/gantrywright/settings.toml", bytes);
        let output = run(&bench, &["assess", "good.toml"]);
        let told = String::from_utf8(output.stderr).expect("text");
        assert!(told.contains(want), "{told}");
        fs::remove_file(bench.path("config/gantrywright/settings.toml")).expect("removed");
    }
}

#[test]
fn nothing_is_written_to_what_is_no_ordinary_file() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    pipe(&bench, "pipe.txt");
    let args = [
        "sheet", "b.toml", "parts", "--force", "--output", "pipe.txt",
    ];
    says(&bench, &args, "not an ordinary file");
    says(
        &bench,
        &["bundle", "b.toml", "--force", "--output", "/dev/full"],
        "not an ordinary file",
    );
}

/// Files of less than 2 MiB that say far too much, and what is said of each.
fn too_much() -> Vec<(&'static str, String, &'static str)> {
    let variant = |place: usize| {
        let from = match place {
            0 => "main".to_owned(),
            _ => format!("v{}", place - 1),
        };
        format!("[variants.v{place}]\nfrom = \"{from}\"\n")
    };
    let many =
        |count: usize, one: &dyn Fn(usize) -> String| -> String { (0..count).map(one).collect() };
    let long = "more than 10000 are not read";
    vec![
        ("title", format!("title = \"{}\"", "x".repeat(1_900_000)), long),
        ("note", format!("note = \"\"\"{}\"\"\"", "= x\n".repeat(400_000)), long),
        ("turned", format!("title = \"{}\"", "\\u202e".repeat(300_000)), long),
        ("name", format!("{} = 1", "k".repeat(1_900_000)), long),
        ("done", format!("[done]\n{}", many(90_000, &|n| format!("t{n} = \"2026-01-01\"\n"))), "more than 1000 entries"),
        ("keys", many(150_000, &|n| format!("k{n} = 1\n")), "more than 1000 entries"),
        ("sections", many(150_000, &|n| format!("[t{n}]\n")), "more than 1000 entries"),
        ("tables", "[[a]]\n".repeat(300_000), "300000 entries"),
        ("offcuts", format!("[offcuts_mm]\ntube-80x80x4 = [{}]", "1,".repeat(900_000)), "900000 entries"),
        ("materials", format!("[working_area]\nmaterials = [{}]", "\"softwood\",".repeat(150_000)), "150000 entries"),
        ("offers", format!("[purchases.rail-15]\nquotes = [{}]", "{price=\"1 EUR\"},".repeat(100_000)), "100000 entries"),
        ("chain", many(200, &variant), "at most 100 variants"),
        ("digits", format!("[working_area]\ntravel_x_mm = {}", "9".repeat(1_900_000)), "50 to 10000 mm"),
        ("fraction", format!("[working_area]\ntravel_x_mm = 0.{}", "9".repeat(1_900_000)), "50 to 10000 mm"),
        ("exponent", "[working_area]\ntravel_x_mm = 1e999999999999".to_owned(), "50 to 10000 mm"),
        ("amount", format!("[working_area]\nbudget = \"{} EUR\"", "9".repeat(400)), "budget"),
        ("fortune", "[purchases.rail-15]\npayments = [{ amount = \"79228162514264337593543950335 EUR\", date = \"2026-01-01\" }]".to_owned(), "more than a machine can cost"),
        ("dots", format!("title = 1\n{}b = 1", "a.".repeat(90)), "nested too deeply"),
    ]
}

#[test]
fn files_that_say_too_much_are_refused() {
    let bench = Bench::new();
    for (name, text, want) in too_much() {
        let file = format!("{name}.toml");
        bench.write(&file, format!("format = 1\n{text}\n"));
        says(&bench, &["assess", &file], want);
    }
    for (number, want) in [
        ("9223372036854775808", "write format = 1"),
        ("0xffffffffffffffffffffffff", "write format = 1"),
        ("1e999", "write format = 1"),
        ("9223372036854775807", "newer than this program"),
    ] {
        bench.write("format.toml", format!("format = {number}\n"));
        says(&bench, &["assess", "format.toml"], want);
    }
}

#[test]
fn folders_of_parts_that_say_too_much_are_refused() {
    const TUBE: &str = "[[tube]]\nid = \"tube-own\"\ntitle = \"own\"\nsource = \"measured here\"\nwidth_mm = 80.0\nheight_mm = 80.0\nwall_mm = 4.0\n";
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let told = |folder: &str, text: String, want: &str| {
        bench.write(&format!("{folder}/parts.toml"), text);
        says(&bench, &["assess", "b.toml", "--configs", folder], want);
    };
    told(
        "long",
        TUBE.replace("\"own\"", &format!("\"{}\"", "x".repeat(1_900_000))),
        "more than 10000 are not read",
    );
    told(
        "digits",
        TUBE.replace("80.0", &"9".repeat(900_000)),
        "overflow",
    );
    let many = (0..15_000).map(|number| TUBE.replace("tube-own", &format!("tube-own-{number}")));
    told("many", many.collect(), "one more than 4000 entries");
    told(
        "bare",
        "[[tube]]\n".repeat(150_000),
        "the keys \"id\", \"title\"",
    );
    // All the files together are limited, each by itself is not too large.
    for number in 0..9 {
        bench.write(&format!("all/{number}.toml"), "# remark\n".repeat(220_000));
    }
    says(
        &bench,
        &["assess", "b.toml", "--configs", "all"],
        "more than 16 MiB",
    );
}

#[test]
fn offers_that_say_too_much_are_refused_or_cut() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let refused = |text: String, want: &str| {
        bench.write("q.csv", text);
        says(&bench, &["quotes", "b.toml", "q.csv"], want);
        let after = fs::read_to_string(bench.path("b.toml")).expect("there");
        assert_eq!(after, "format = 1\n");
    };
    refused(",".repeat(1_900_000), "must name the columns");
    refused(
        format!("part,price\n{}", "rail-15,1\n".repeat(100_000)),
        "more than 2000 rows",
    );
    let many = (1..1500).map(|price| format!("rail-15,{price}\n"));
    refused(
        format!("part,price\n{}", many.collect::<String>()),
        "1499 entries",
    );
    for row in [
        format!("{},1", "x".repeat(1_900_000)),
        format!("rail-15,{}", "9".repeat(1_900_000)),
        format!("\"{}", "a,\n".repeat(500_000)),
    ] {
        bench.write("q.csv", format!("part,price\n{row}\n"));
        let output = run(&bench, &["quotes", "b.toml", "q.csv"]);
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        let said = String::from_utf8(output.stdout).expect("text");
        assert!(said.contains("more than 200 characters"), "{said}");
        assert!(said.len() < 2000, "it is not repeated");
    }
}

#[test]
fn a_bundle_leads_to_no_other_file() {
    let bench = Bench::new();
    bench.write("deep/down/x", "");
    bench.write("secret.toml", "[[tube]]\n");
    let head = "bundle = 1\nprogram = \"x\"\nbuilt_in = \"x\"\nbuild = \"format = 1\"\n";
    let file = |name: &str| format!("[[file]]\nname = \"{name}\"\nfolder = 1\ntext = \"\"\n");
    let names = [
        "../../secret.toml",
        "/etc/passwd",
        "..",
        "a/../../b",
        "\\u001b[2J\\u202e",
        "C:\\\\x",
    ];
    let files: String = names.into_iter().map(file).collect();
    bench.write("deep/down/out.toml", format!("{head}{files}"));
    let listed = |folder: &str| -> Vec<_> {
        let entries = fs::read_dir(bench.path(folder)).expect("a folder");
        entries
            .map(|entry| entry.expect("an entry").file_name())
            .collect()
    };
    let before = (listed(""), listed("deep"), listed("deep/down"));
    // The names are names alone: nothing is read by them, and nothing is written.
    let output = run(&bench, &["assess", "deep/down/out.toml"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert_eq!((listed(""), listed("deep"), listed("deep/down")), before);
    let bad = file("../../\\u001b[2J.toml").replace("text = \"\"", "text = \"[[x\"");
    bench.write("bad.toml", format!("{head}{bad}"));
    says(
        &bench,
        &["assess", "bad.toml"],
        "bad.toml: ../../\\u{1b}[2J.toml:1:",
    );
    bench.write("many.toml", format!("{head}{}", file("x").repeat(30_000)));
    let output = run(&bench, &["assess", "many.toml"]);
    assert_eq!(
        output.status.code(),
        Some(0),
        "empty files are nothing: {output:?}"
    );
    bench.write(
        "long.toml",
        head.replace("\"x\"", &format!("\"{}\"", "x".repeat(900_000))),
    );
    says(&bench, &["assess", "long.toml"], "at most 200 characters");
}

#[test]
fn a_title_leads_to_no_other_folder() {
    use gantrywright::screen::file_names::stem;
    assert_eq!(stem("../../etc/passwd"), "etc-passwd");
    assert_eq!(stem("/ . \\ \u{202e}\u{1b}[2J \0"), "2j");
    assert_eq!(stem("\u{1b}\u{202e}../"), "machine");
    assert_eq!(stem("Fr\u{e4}se 2"), "fr\u{e4}se-2");
    // 255 bytes are the longest name that file systems take.
    assert!(stem(&"\u{4e2d}".repeat(10_000)).len() + "-terminals.xlsx".len() <= 255);
}
