//! Overlay files that cannot be used: one message with file and place, exit code 2, and the
//! file left as it was.

use bench::Bench;

#[path = "common/bench.rs"]
mod bench;

#[test]
fn overlays_that_cannot_be_used() {
    const TUBE: &str = "[[tube]]\nid = \"tube-own\"\ntitle = \"own\"\nsource = \"measured here\"\nwidth_mm = 80.0\nheight_mm = 80.0\nwall_mm = 4.0\n";
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let refused = |overlay: &str| {
        bench.write("own/parts.toml", overlay);
        let output = bench
            .program()
            .args(["assess", "b.toml", "--configs", "own"])
            .output()
            .expect("a run");
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        assert_eq!(
            std::fs::read_to_string(bench.path("own/parts.toml")).expect("there"),
            overlay
        );
        String::from_utf8(output.stderr).expect("text")
    };
    for (from, to, place, want) in [
        ("[[tube]]", "[[tub]]", "1:3", "did you mean \"tube\"?"),
        ("wall_mm", "wal_mm", "7:1", "did you mean \"wall_mm\"?"),
        ("wall_mm = 4.0", "wall_mm = nan", "7:11", "not NaN"),
        ("wall_mm = 4.0", "wall_mm = -4.0", "7:11", "zero or more"),
        ("wall_mm = 4.0", "wall_mm = 0", "1:1", "above zero"),
        (
            "wall_mm = 4.0",
            "wall_mm = \"4 mm\"",
            "7:11",
            "a number without quotes",
        ),
        ("tube-own", "Tube Own", "2:6", "is not an id"),
    ] {
        let message = refused(&TUBE.replace(from, to));
        assert!(
            message.starts_with(&format!("own/parts.toml:{place}: ")),
            "{message}"
        );
        assert!(message.contains(want), "{want:?} is not in {message}");
    }
    let message = refused(&format!("{TUBE}\n{TUBE}"));
    assert!(
        message.starts_with(
            "own/parts.toml:9:1: the id \"tube-own\" is at own/parts.toml:1:1 already"
        ),
        "{message}"
    );
    let message = refused(&"a.".repeat(900_000));
    assert!(message.lines().count() == 1, "{message}");

    let output = bench
        .program()
        .args(["assess", "b.toml", "--configs", "nowhere"])
        .output()
        .expect("a run");
    let message = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        output.status.code() == Some(2) && message == "nowhere: there is no such folder\n",
        "{message}"
    );
}
