//! Who holds a file, and what is left over of those who did.

use super::*;

fn folder() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    (folder, path)
}

fn ours(path: &Path) -> Lock {
    match ask(path) {
        Asked::Ours(lock) => lock,
        other => panic!("{other:?}"),
    }
}

fn count(folder: &Path) -> usize {
    fs::read_dir(folder).expect("a folder").count()
}

#[test]
fn a_second_one_is_told_who_and_gets_it_once_the_first_has_left() {
    let (folder, path) = folder();
    let first = ours(&path);
    let Asked::Theirs(who) = ask(&path) else {
        panic!("it is held");
    };
    assert_eq!(who.process, std::process::id());
    assert_eq!(who.host, Who::own().host);
    assert!(who.since.is_some_and(|since| since <= Timestamp::now()));
    assert!(who.told().contains("in another window"), "{}", who.told());
    drop(first);
    assert_eq!(count(folder.path()), 0, "nothing is left beside it");
    drop(ours(&path));
}

#[test]
fn what_a_dead_one_left_is_taken_over_whatever_it_says() {
    let (folder, path) = folder();
    let left = beside(&place_of(&path).expect("a place"));
    // A process that surely lives: what the file says of it does not count.
    fs::write(&left, "who = \"anna\"\nhost = \"shop\"\nprocess = 1\n").expect("written");
    let lock = ours(&path);
    assert_eq!(read(&left).map(|who| who.process), Some(std::process::id()));
    drop(lock);
    assert_eq!(count(folder.path()), 0);
    fs::write(&left, b"\xff no text").expect("written");
    drop(ours(&path));
    assert_eq!(count(folder.path()), 0);
}

#[cfg(unix)]
#[test]
fn one_file_by_two_paths_has_one_lock() {
    let (folder, path) = folder();
    fs::write(&path, "format = 1\n").expect("written");
    let other = folder.path().join("link.toml");
    std::os::unix::fs::symlink("shed.toml", &other).expect("linked");
    let lock = ours(&other);
    assert!(lock.is_for(&path) && lock.is_for(&other));
    assert!(matches!(ask(&path), Asked::Theirs(_)));
    // Saving puts another file in its place; the lock stays.
    super::super::save(&path, "format = 1\ntitle = \"two\"\n").expect("saved");
    assert!(matches!(ask(&path), Asked::Theirs(_)));
}

#[cfg(unix)]
#[test]
fn a_link_that_somebody_laid_in_its_place_is_not_written_through() {
    let (folder, path) = folder();
    let victim = folder.path().join("victim");
    fs::write(&victim, "precious").expect("written");
    let left = beside(&place_of(&path).expect("a place"));
    std::os::unix::fs::symlink(&victim, &left).expect("linked");
    assert!(matches!(ask(&path), Asked::Unknown(_)));
    assert_eq!(fs::read_to_string(&victim).expect("text"), "precious");
}

#[test]
fn where_nothing_can_lie_beside_it_that_is_said() {
    let Asked::Unknown(why) = ask(Path::new("/nowhere/at/all/shed.toml")) else {
        panic!("there is no such folder");
    };
    assert!(!why.is_empty());
}

#[test]
fn names_of_others_are_told_in_plain_words_and_steer_no_terminal() {
    let now: ZonedDateTime = "2026-11-26T19:30[UTC]".parse().expect("a time");
    let own = Who {
        who: "anna".to_owned(),
        host: "shop".to_owned(),
        ..Who::default()
    };
    let mut who = Who {
        who: "ben\u{1b}[2J".to_owned(),
        host: "h".repeat(500),
        process: 4711,
        since: "2026-11-26T18:10:00Z".parse().ok(),
    };
    let told = who.told_to(&own, &now);
    assert!(
        told.starts_with("ben\\u{1b}[2J works on it on hhh"),
        "{told}"
    );
    assert!(
        told.ends_with(" since 18:10 UTC (process 4711)") && told.len() < 120,
        "{told}"
    );
    who.since = "2026-11-25T18:10:00Z".parse().ok();
    assert!(who.told_to(&own, &now).contains(" since 2026-11-25 18:10"));
    assert_eq!(Who::default().told_to(&own, &now), "somebody works on it");
}
