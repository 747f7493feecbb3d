//! The reader against the one of the `toml` crate: the same values, and of what is wrong the same
//! words at the same place.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::*;

#[derive(Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Whole {
    text: String,
    #[serde(default)]
    number: Option<f64>,
    #[serde(default)]
    count: u16,
    #[serde(default)]
    flag: bool,
    #[serde(default)]
    list: Vec<Inner>,
    #[serde(default)]
    three: [f64; 3],
    #[serde(default)]
    map: BTreeMap<String, i64>,
    #[serde(default)]
    wrapped: Wrapped,
    #[serde(default)]
    word: Word,
}

#[derive(Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Inner {
    value: u32,
}

#[derive(Debug, Default, PartialEq, Deserialize)]
struct Wrapped(f64);

#[derive(Debug, Default, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Word {
    #[default]
    First,
    SecondOne,
}

#[test]
fn what_is_right_is_read_as_the_library_reads_it() {
    for text in [
        "text = \"a\"",
        "text = 'é'\nnumber = 1\ncount = 0x1F\nflag = true",
        "text = \"\"\nnumber = inf",
        "text = \"a\"\nnumber = -1.5e3\nthree = [1, 2.5, 3]\nwrapped = 2",
        "text = \"a\"\nword = \"second-one\"\nmap = { x = 1, y = -2 }",
        "text = \"a\"\n[[list]]\nvalue = 1\n[[list]]\nvalue = 2\n[map]\nz = 3",
    ] {
        let theirs: Whole = toml::from_str(text).expect(text);
        assert_eq!(read::<Whole>(text).expect(text), theirs, "{text}");
    }
}

#[test]
fn what_is_wrong_is_told_in_the_same_words_at_the_same_place() {
    for text in [
        "",
        "text = 1",
        "text = true",
        "text = [1]",
        "text = {}",
        "text = \"a\"\nnumber = \"1\"",
        "text = \"a\"\ncount = 1.5",
        "text = \"a\"\ncount = -1",
        "text = \"a\"\ncount = 70000",
        "text = \"a\"\nflag = 0",
        "text = \"a\"\ntexd = 1",
        "text = \"a\"\nlist = 5",
        "text = \"a\"\nlist = [5]",
        "text = \"a\"\n[[list]]\nvalue = 1\n[[list]]\n",
        "text = \"a\"\n[[list]]\nvalue = 1\nother = 2",
        "text = \"a\"\nthree = [1, 2]",
        "text = \"a\"\nword = \"third\"",
        "text = \"a\"\nmap = { x = \"1\" }",
        "text = \"a\"\ntext = \"b\"",
        "text = \"a",
        "text = 600 mm",
    ] {
        let theirs = toml::from_str::<Whole>(text).expect_err(text);
        let ours = read::<Whole>(text).expect_err(text);
        assert_eq!(ours.message(), theirs.message(), "{text}");
        assert_eq!(ours.place(), theirs.span(), "{text}: {}", ours.message());
    }
}

/// What no machine counts to is refused; the library knows larger numbers.
#[test]
fn numbers_without_end_are_refused() {
    for number in ["99999999999999999999", "1e999"] {
        let text = format!("text = \"a\"\nnumber = {number}");
        let error = read::<Whole>(&text).expect_err(number);
        assert!(
            error.message().contains("overflowed"),
            "{}",
            error.message()
        );
        assert_eq!(error.place(), Some(20..20 + number.len()));
    }
    let error = read::<Whole>("text = 1979-05-27").expect_err("a date");
    assert!(error.message().contains("a date without quotes"), "{error}");
}

#[test]
fn a_placed_value_knows_where_it_stands() {
    #[derive(Deserialize)]
    struct File {
        list: Vec<Placed<Inner>>,
        map: BTreeMap<String, Placed<String>>,
    }
    let text = "list = [{ value = 1 }, { value = 2 }]\nmap = { a = \"b\" }";
    let file: File = read(text).expect("a file");
    let placed = file.list.iter().map(|one| &text[one.place()]);
    assert_eq!(
        placed.collect::<Vec<_>>(),
        ["{ value = 1 }", "{ value = 2 }"]
    );
    assert_eq!(
        (file.list[1].value().value, &text[file.map["a"].place()]),
        (2, "\"b\"")
    );
}

/// Bytes that were cut off anywhere are read as less, or refused, never with a fault.
#[test]
fn cut_bytes_are_no_fault() {
    let text = "text = \"a\"\nnumber = 1.5\ncount = 3\n[[list]]\nvalue = 1\n";
    let baked = baked::bake(text).expect("TOML");
    for end in 0..=baked.len() {
        let read = parsed(&baked[..end]).next().map(Parsed::read::<Whole>);
        assert_eq!(
            read.is_some_and(|read| read.is_ok()),
            end == baked.len(),
            "{end}"
        );
    }
}
