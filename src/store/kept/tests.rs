//! What others write is noticed, and nothing of theirs is replaced unseen.

use std::fs;

use super::*;

fn opened(text: &str) -> (tempfile::TempDir, PathBuf, Kept) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    fs::write(&path, text).expect("written");
    let (kept, others) = Kept::open(&path, Some(text.to_owned()));
    assert_eq!(others, Others::Nobody);
    (folder, path, kept)
}

fn changed(found: Found) -> Standing {
    Standing::Changed { found, held: None }
}

#[test]
fn what_others_write_is_news_once_and_replaced_only_as_it_was_seen() {
    let (_folder, path, mut kept) = opened("one");
    assert_eq!(kept.news(), None);
    assert_eq!(kept.standing(&path, false), Standing::Free);
    fs::write(&path, "two, by somebody else").expect("written");
    let theirs = "two, by somebody else".to_owned();
    assert_eq!(kept.news(), Some(Ok(theirs.clone())));
    assert_eq!(kept.news(), None);
    let changed = changed(Ok(theirs));
    assert_eq!(kept.standing(&path, false), changed);
    // Between the question and the answer it was changed once more.
    fs::write(&path, "three").expect("written");
    let again = self::changed(Ok("three".to_owned()));
    assert_eq!(kept.standing(&path, true), again);
    assert_eq!(kept.standing(&path, true), Standing::Free);
    kept.write(&path, "mine").expect("saved");
    assert_eq!(kept.news(), None);
    assert_eq!(kept.standing(&path, false), Standing::Free);
}

#[test]
fn touched_alone_is_no_news() {
    let (_folder, path, mut kept) = opened("one");
    assert_eq!(kept.news(), None);
    // Another file with the same text, as a program that fetches files may put there.
    fs::write(path.with_extension("other"), "one").expect("written");
    fs::rename(path.with_extension("other"), &path).expect("renamed");
    assert_eq!(kept.news(), None);
    assert_eq!(kept.standing(&path, false), Standing::Free);
}

#[test]
fn what_cannot_be_read_any_more_is_a_change() {
    let (_folder, path, mut kept) = opened("one");
    fs::write(&path, b"\xff").expect("written");
    assert!(matches!(kept.news(), Some(Err(_))));
    assert!(matches!(
        kept.standing(&path, false),
        Standing::Changed { found: Err(_), .. }
    ));
    assert_eq!(kept.standing(&path, true), Standing::Free);
}

#[test]
fn a_file_that_is_gone_is_written_anew() {
    let (_folder, path, mut kept) = opened("one");
    fs::remove_file(&path).expect("removed");
    assert_eq!(kept.news(), None);
    assert_eq!(kept.standing(&path, false), Standing::Free);
    kept.write(&path, "one").expect("saved");
}

#[test]
fn a_second_one_may_look_and_save_elsewhere_and_here_once_the_first_has_left() {
    let (folder, path, first) = opened("one");
    let (mut second, others) = Kept::open(&path, Some("one".to_owned()));
    assert!(matches!(others, Others::One(_)));
    assert!(matches!(second.standing(&path, true), Standing::Held(_)));
    drop(first);
    assert_eq!(second.standing(&path, false), Standing::Free);
    second.write(&path, "two").expect("saved");
    let other = folder.path().join("other.toml");
    assert_eq!(second.standing(&other, false), Standing::Free);
    second.write(&other, "two").expect("saved");
    // The first name is free again, the other one is held.
    assert!(matches!(lock::ask(&path), Asked::Ours(_)));
    assert!(matches!(lock::ask(&other), Asked::Theirs(_)));
    drop(second);
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 2);
}

#[test]
fn another_file_is_asked_about_by_whatever_path() {
    let (folder, path, mut kept) = opened("one");
    fs::write(folder.path().join("other.toml"), "").expect("written");
    let other = folder.path().join("other.toml");
    assert_eq!(kept.standing(&other, false), Standing::Exists);
    let roundabout = folder.path().join(".").join("shed.toml");
    assert_eq!(kept.standing(&roundabout, false), Standing::Free);
    assert!(matches!(kept.reopen(&path, None), Others::Nobody));
}

#[test]
fn a_command_does_not_write_under_anybody() {
    let (_folder, path, kept) = opened("one");
    let error = save_alone(&path, "two").expect_err("held");
    assert!(
        error.message.starts_with("not saved: you work on it"),
        "{error}"
    );
    assert!(held(&path).is_err());
    drop(kept);
    save_alone(&path, "two").expect("saved");
    assert_eq!(fs::read_to_string(&path).expect("text"), "two");
}
