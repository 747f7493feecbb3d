use super::*;

fn overlay(inside: &str, text: &str) -> Overlay {
    Overlay {
        name: inside.to_owned(),
        inside: inside.to_owned(),
        text: text.to_owned(),
    }
}

fn bundled(build: &str, layers: &[Vec<Overlay>]) -> (String, Bundle) {
    let text = write(build, "b.toml", layers).unwrap_or_else(|error| panic!("{error}"));
    let read = read(&text, "out.toml").unwrap_or_else(|error| panic!("{error}\n{text}"));
    (text, read.expect("a bundle"))
}

#[test]
fn every_text_comes_back_as_it_was() {
    for build in [
        "format = 1\n",
        "format = 1",
        "\nformat = 1\n\n",
        "format = 1\r\n# a\r\n",
        "note = '''\nx\n'''\n",
        "# it's 'quoted'",
        "# \"a\" \\ \u{1b} \u{202e} \u{e0041} \u{feff}\n",
        "",
        "\u{feff}format = 1\n",
    ] {
        let layers = [
            vec![overlay("a.toml", build), overlay("b/c.toml", "# two\n")],
            vec![overlay("a.toml", "# three\n")],
        ];
        let (text, read) = bundled(build, &layers);
        assert_eq!(read.build, build, "{text}");
        let texts = |layers: &[Vec<Overlay>]| -> Vec<Vec<(String, String)>> {
            let one = |file: &Overlay| (file.inside.clone(), file.text.clone());
            let layer = |layer: &Vec<Overlay>| layer.iter().map(one).collect();
            layers.iter().map(layer).collect()
        };
        assert_eq!(texts(&read.layers), texts(&layers), "{text}");
        let shown = |letter: char| letter == '\n' || !is_hidden(letter);
        assert!(text.chars().all(shown), "{text:?}");
        assert_eq!(read.differs(), None);
    }
}

#[test]
fn another_build_takes_the_place_of_the_first_and_nothing_else_moves() {
    let (text, _) = bundled("format = 1\n", &[vec![overlay("a.toml", "# one\n")]]);
    let text = text.replace("build = ", "# the shed\nbuild = ") + "# the end\n";
    let bundle = read(&text, "out.toml")
        .expect("readable")
        .expect("a bundle");
    assert_eq!(bundle.with_build("format = 1\n"), text);
    let changed = bundle.with_build("format = 1 # new\n");
    assert_eq!(changed, text.replace("format = 1\n", "format = 1 # new\n"));
}

#[test]
fn what_is_no_bundle_is_left_alone_and_what_is_a_bad_one_is_told() {
    for text in ["format = 1\n", "# bundle\nformat = 1\n", "bundle = = 1"] {
        assert_eq!(read(text, "b.toml"), Ok(None), "{text}");
    }
    let head = "program = \"1\"\nbuilt_in = \"x\"\n";
    let inner = "build = \"format = 1\"\n";
    let long = format!(
        "bundle = 1\n{head}{inner}[[file]]\nname = \"{}\"\nfolder = 1\ntext = \"\"",
        "n".repeat(201)
    );
    for (text, want) in [
        (
            format!("bundle = 2\n{head}{inner}"),
            "o.toml:1:10: bundle 2 is newer",
        ),
        (format!("bundle = 0\n{head}{inner}"), "there is no bundle 0"),
        (
            format!("bundle = 1\n{head}"),
            "the key \"build\" is missing",
        ),
        (
            format!("bundle = 1\n{head}{inner}mine = 2"),
            "there is no key \"mine\"",
        ),
        (
            format!("bundle = 1\n{head}build = \"bundle = 1\""),
            "o.toml:4:9: the build in this bundle is a bundle itself",
        ),
        (long, "1 to 200 characters"),
    ] {
        let error = read(&text, "o.toml").expect_err(want).to_string();
        assert!(error.contains(want), "{want}: {error}");
    }
    let error = write("bundle = 1", "b.toml", &[]).expect_err("a bundle");
    assert!(error.to_string().contains("a bundle already"));
    let much = "#".repeat(usize::try_from(LARGEST).expect("small"));
    let error = write("format = 1", "b.toml", &[vec![overlay("a", &much)]]).expect_err("large");
    assert!(error.to_string().contains("larger than 2 MiB"), "{error}");
}

#[test]
fn a_bundle_of_other_data_says_so() {
    let (text, _) = bundled("format = 1\n", &[]);
    let text = text.replace(embedded::mark(), "0000000000000000");
    let bundle = read(&text, "out.toml")
        .expect("readable")
        .expect("a bundle");
    assert!(
        bundle
            .differs()
            .is_some_and(|told| told.contains("totals may differ"))
    );
}
