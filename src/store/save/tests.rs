//! What saving keeps, and what it refuses.

use std::fs;

use super::*;

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

#[test]
fn a_new_file_holds_the_text_and_nothing_is_left_beside_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("build.toml");
    save(&path, "format = 1\n").expect("saved");
    save(&path, "format = 1\ntitle = \"two\"\n").expect("saved again");
    assert_eq!(
        fs::read_to_string(&path).expect("text"),
        "format = 1\ntitle = \"two\"\n"
    );
    assert_eq!(names(folder.path()), ["build.toml"]);
}

#[cfg(unix)]
#[test]
fn permissions_stay_and_new_files_are_readable_like_any_other() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("build.toml");
    let mode = |path: &Path| fs::metadata(path).expect("there").permissions().mode() & 0o777;
    let plain = folder.path().join("plain");
    fs::write(&plain, "").expect("written");
    save(&path, "one").expect("saved");
    assert_eq!(mode(&path), mode(&plain));
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("changed");
    save(&path, "two").expect("saved");
    assert_eq!(mode(&path), 0o640);
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_its_file_gets_the_text() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("deep")).expect("made");
    let real = folder.path().join("deep/real.toml");
    let link = folder.path().join("link.toml");
    symlink("deep/real.toml", &link).expect("linked");
    save(&link, "text").expect("saved through a link to nothing yet");
    save(&link, "more").expect("saved through a link to a file");
    assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
    assert_eq!(fs::read_to_string(&real).expect("text"), "more");

    let circle = folder.path().join("circle");
    symlink("circle", &circle).expect("linked");
    let error = save(&circle, "text").expect_err("a circle");
    assert!(error.message.contains("circle"), "{error}");
}

#[test]
fn folders_missing_folders_and_read_only_files_are_refused_and_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let error = save(folder.path(), "text").expect_err("a folder");
    assert!(error.message.contains("this is a folder"), "{error}");
    let error = save(&folder.path().join("no/where.toml"), "text").expect_err("no folder");
    assert!(error.message.contains("there is no folder"), "{error}");

    let path = folder.path().join("kept.toml");
    fs::write(&path, "old").expect("written");
    let mut permissions = fs::metadata(&path).expect("there").permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).expect("changed");
    let error = save(&path, "new").expect_err("read-only");
    assert!(error.message.contains("may only be read"), "{error}");
    assert_eq!(fs::read_to_string(&path).expect("text"), "old");
    assert_eq!(names(folder.path()), ["kept.toml"]);
}
