//! What is pressed: a word a key, as it is read aloud; `Down*18` stands for eighteen of them.
//!
//! Every measured key changes what is on the screen: a key that does nothing is quick, and would
//! make the others look so. The run says where one did nothing after all.

/// Keys to press in one kind of work.
pub(crate) struct Script {
    /// What is done.
    pub(crate) title: &'static str,
    /// Sessions: how to get there, which is not measured, and the keys that are.
    pub(crate) sessions: &'static [(&'static str, &'static str)],
}

/// Down a list and up again; the lists have more rows than that.
const THERE_AND_BACK: &str = "Down*18 Up*18";

/// The scripts, on an example build.
pub(crate) const SCRIPTS: &[Script] = &[
    Script {
        title: "over options, with previews",
        sessions: &[
            ("/ drive Space x Enter Home", THERE_AND_BACK),
            ("/ motor Space x Enter Home", THERE_AND_BACK),
            ("/ coupling Space x Enter Home", THERE_AND_BACK),
        ],
    },
    Script {
        title: "over options beside a drawing",
        sessions: &[("/ beam Space tube Enter Home", THERE_AND_BACK)],
    },
    Script {
        title: "paging",
        sessions: &[
            ("2", "PageDown*4 PageUp*4"),
            ("b", "PageDown*4 PageUp*4"),
            ("d", "PageDown*6 PageUp*6"),
            ("6 Enter", "PageDown*2 PageUp*2"),
        ],
    },
    Script {
        title: "to other pages and back",
        sessions: &[(
            "",
            "b Esc w Esc e Esc ? Esc 6 Esc 7 Esc v Esc d Esc 2 3 4 5 1",
        )],
    },
    Script {
        title: "pages of pictures",
        sessions: &[("p", "Tab*10 BackTab*10 t t")],
    },
];

/// What is pressed in the process viewer: the keys that are pressed over options, where it lists
/// more processes than that, and two arrows in turn, which any list of two has an answer to and
/// which change the same two rows over and over.
pub(crate) const VIEWER: [Script; 2] = [
    Script {
        title: "htop, the same keys",
        sessions: &[("", THERE_AND_BACK)],
    },
    Script {
        title: "htop, two rows in turn",
        sessions: &[(
            "",
            "Down Up Down Up Down Up Down Up Down Up Down Up Down Up Down Up",
        )],
    },
];

/// The keys of a script, as a terminal sends them.
pub(crate) fn keys(script: &str) -> Vec<&str> {
    let mut keys = Vec::new();
    for word in script.split_whitespace() {
        let repeated = word.split_once('*');
        let counted = repeated.and_then(|(name, count)| Some((name, count.parse().ok()?)));
        let (name, count) = counted.unwrap_or((word, 1));
        keys.extend(std::iter::repeat_n(sent(name), count));
    }
    keys
}

/// What a terminal sends for a key; a word without a meaning of its own is typed.
fn sent(name: &str) -> &str {
    match name {
        "Up" => "\x1b[A",
        "Down" => "\x1b[B",
        "Home" => "\x1b[H",
        "PageUp" => "\x1b[5~",
        "PageDown" => "\x1b[6~",
        "Tab" => "\t",
        "BackTab" => "\x1b[Z",
        "Enter" => "\r",
        "Esc" => "\x1b",
        "Space" => " ",
        typed => typed,
    }
}
