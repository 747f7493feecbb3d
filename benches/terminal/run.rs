//! The measurement: sessions one after the other, and a table of what they gave.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::process::{peak_kib, ticks};
use crate::script::{SCRIPTS, Script, VIEWER, keys};
use crate::session::{Answer, COLUMNS, FILE, ROWS, Session};

/// The program: the file that is named, else the one that was built along with the benchmark.
/// Cargo builds that with unwinding, which the finished program is without.
fn program() -> PathBuf {
    let named = std::env::args()
        .skip(1)
        .find(|argument| !argument.starts_with('-'));
    let named = named.and_then(|name| std::path::absolute(name).ok());
    named.unwrap_or_else(|| env!("CARGO_BIN_EXE_gantrywright").into())
}

/// How often each program is started for its first frame.
const STARTS: usize = 21;
/// How often each session of a script is gone through.
const ROUNDS: usize = 5;
/// How long nothing is pressed.
const IDLE: Duration = Duration::from_secs(3);
/// Until the next key, as nobody presses faster.
const GAP: Duration = Duration::from_millis(10);
/// The viewer draws by itself now and then; with this much time between (tenths of a second)
/// that hardly falls between a key and its answer.
const VIEWER_DELAY: &[&str] = &["-d", "100"];

/// What sessions gave.
#[derive(Default)]
struct Answers {
    milliseconds: Vec<f64>,
    bytes: Vec<usize>,
    /// Keys that changed nothing.
    silent: usize,
    /// The most memory, in KiB.
    peak_kib: u64,
}

impl Answers {
    fn take(&mut self, answer: &Answer) {
        match answer.took {
            Some(took) if answer.changed => {
                self.milliseconds.push(took.as_secs_f64() * 1000.0);
                self.bytes.push(answer.bytes);
            }
            _ => self.silent += 1,
        }
    }
}

/// Measures everything and prints it.
pub(crate) fn run() -> Result<(), Box<dyn Error>> {
    let driven = program();
    println!(
        "terminal of {COLUMNS} x {ROWS}, all colours; open: {FILE}; {}",
        driven.display()
    );
    first_frames()?;
    println!("\nkey to last byte, {ROUNDS} rounds, in milliseconds");
    println!(
        "  {:<31}{:>6}{:>9}{:>9}{:>14}{:>8}{:>11}",
        "", "keys", "median", "99th", "bytes, median", "99th", "no answer"
    );
    let (mut silent, mut peak) = (0, 0);
    let mut all = Vec::new();
    for script in SCRIPTS {
        let answers = go_through(script, &program(), &[FILE])?;
        row(script.title, &answers);
        silent += answers.silent;
        peak = peak.max(answers.peak_kib);
        all.push((script, answers));
    }
    match installed("htop") {
        Some(viewer) => {
            for script in &VIEWER {
                let theirs = go_through(script, &viewer, VIEWER_DELAY)?;
                row(script.title, &theirs);
                for (script, ours) in &all {
                    ratio(script.title, ours, &theirs);
                }
            }
        }
        None => println!("  htop: not installed"),
    }
    idle()?;
    println!("\npeak memory of all sessions: {}", mib(peak * 1024));
    let size = std::fs::metadata(program())?.len();
    println!("the program's file: {}, {size} bytes", mib(size));
    scripts();
    match silent {
        0 => Ok(()),
        _ => Err(format!("{silent} keys had no answer: mend the script, or the program").into()),
    }
}

/// First frames, of both programs in turn, so that both find the machine in the same state.
fn first_frames() -> Result<(), Box<dyn Error>> {
    let editor = installed("vim");
    let (mut ours, mut theirs) = (Answers::default(), Answers::default());
    for _ in 0..STARTS {
        ours.take(&Session::start(&program(), &[FILE])?.first);
        if let Some(editor) = &editor {
            theirs.take(&Session::start(editor, &["-u", "NONE", FILE])?.first);
        }
    }
    println!("\nstart to last byte of the first frame, {STARTS} starts, in milliseconds");
    println!(
        "  {:<31}{:>6}{:>9}{:>9}{:>14}{:>8}{:>11}",
        "", "starts", "median", "99th", "bytes, median", "99th", "no answer"
    );
    row("gantrywright", &ours);
    match editor {
        Some(_) => {
            row("vim -u NONE", &theirs);
            ratio("gantrywright", &ours, &theirs);
        }
        None => println!("  vim -u NONE: not installed"),
    }
    Ok(())
}

/// Goes through a script, each session anew, as often as [`ROUNDS`] says.
fn go_through(
    script: &Script,
    program: &Path,
    arguments: &[&str],
) -> Result<Answers, Box<dyn Error>> {
    let mut answers = Answers::default();
    for _ in 0..ROUNDS {
        for (there, measured) in script.sessions {
            let mut session = Session::start(program, arguments)?;
            for key in keys(there) {
                session.press(key)?;
            }
            for key in keys(measured) {
                std::thread::sleep(GAP);
                answers.take(&session.press(key)?);
            }
            answers.peak_kib = answers.peak_kib.max(peak_kib(session.process()?)?);
        }
    }
    Ok(answers)
}

fn row(title: &str, answers: &Answers) {
    let keys = answers.milliseconds.len() + answers.silent;
    let times = [0.5, 0.99].map(|part| quantile(&answers.milliseconds, part));
    let bytes = [0.5, 0.99].map(|part| quantile(&answers.bytes, part));
    let silent = answers.silent;
    match (times, bytes) {
        ([Some(median), Some(last)], [Some(usual), Some(most)]) => println!(
            "  {title:<31}{keys:>6}{median:>9.2}{last:>9.2}{usual:>14}{most:>8}{silent:>11}"
        ),
        _ => println!("  {title}: none of {keys} had an answer"),
    }
}

/// How long ours took, in times of the other program.
fn ratio(title: &str, ours: &Answers, theirs: &Answers) {
    let part = |part| {
        let ours = quantile(&ours.milliseconds, part)?;
        Some(ours / quantile(&theirs.milliseconds, part)?)
    };
    if let (Some(median), Some(last)) = (part(0.5), part(0.99)) {
        println!("    {title}, in times of that: median {median:.2}, 99th {last:.2}");
    }
}

/// What happens while nothing is pressed, with options and their previews on the screen.
fn idle() -> Result<(), Box<dyn Error>> {
    let mut session = Session::start(&program(), &[FILE])?;
    for key in keys("/ drive Space x Enter Down") {
        session.press(key)?;
    }
    let process = session.process()?;
    let before = ticks(process)?;
    let bytes = session.listen(IDLE);
    let busy = ticks(process)?.saturating_sub(before);
    println!(
        "\nidle for {} s: {bytes} bytes, {busy} ticks of the processor, 10 ms each",
        IDLE.as_secs()
    );
    Ok(())
}

/// The keys, so that nobody has to guess what was measured.
fn scripts() {
    println!("\nkeys, behind those that lead there in brackets");
    for script in SCRIPTS.iter().chain(&VIEWER) {
        for (there, measured) in script.sessions {
            println!("  {}: [{there}] {measured}", script.title);
        }
    }
}

/// Where a program is, if it is anywhere on the path.
fn installed(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(name))
        .find(|file| file.is_file())
}

/// The smallest value that a part of all values does not exceed (nearest rank).
fn quantile<T: Copy + PartialOrd>(values: &[T], part: f64) -> Option<T> {
    let mut sorted = values.to_vec();
    sorted.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    let rank = (part * sorted.len() as f64).ceil() as usize;
    sorted.get(rank.saturating_sub(1)).copied()
}

fn mib(bytes: u64) -> String {
    format!("{:.1} MiB", bytes as f64 / 1024.0 / 1024.0)
}
