//! Pictures and the dossier, whatever was chosen: markup that closes all that it opens, nothing
//! that acts, every place on the sheet, no text upon another, no number that is none.

use crate::common;
use std::collections::BTreeSet;

use gantrywright::assessment::assess;
use gantrywright::build::{Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::sheets::pictures::Picture;
use gantrywright::sheets::{Paper, dossier, pictures};
use gantrywright::store::examples;
use gantrywright::units::respell::Speller;

/// A title that tries whatever markup could fall for.
const HOSTILE: &str = "</title></svg><script>alert(1)</script> \"a\" 'b' & &amp; ]]> \u{1b}[31m\u{0}\u{202e}\u{ffff}<img src=x onerror=alert(1)>";

fn with<T>(catalogue: &Catalogue, build: &Build, then: impl FnOnce(&Paper) -> T) -> T {
    let picked = Picked::new(catalogue, build).expect("known parts");
    let assessment = assess(catalogue, build, common::today()).expect("an assessment");
    then(&Paper {
        catalogue,
        build,
        picked: &picked,
        assessment: &assessment,
        today: common::today(),
    })
}

/// The example builds, and builds of chance.
fn builds(catalogue: &Catalogue, chance: usize) -> Vec<(String, Build)> {
    let mut builds = vec![("default".to_owned(), Build::default())];
    for example in examples::all() {
        let build = example.build(catalogue).expect("an example");
        builds.push((build.title.clone(), build));
    }
    let random = common::random_builds(catalogue, 77, chance);
    let random = random.into_iter().enumerate();
    builds.extend(random.map(|(place, build)| (format!("build of chance {place}"), build)));
    builds
}

/// One tag: its name, its attributes, whether it closes, whether it closes itself.
struct Tag<'t> {
    name: &'t str,
    attributes: Vec<(&'t str, &'t str)>,
    closes: bool,
    alone: bool,
}

impl<'t> Tag<'t> {
    fn get(&self, name: &str) -> Option<&'t str> {
        let found = self.attributes.iter().find(|(key, _)| *key == name);
        found.map(|(_, value)| *value)
    }

    fn number(&self, name: &str) -> f64 {
        let text = self.get(name).unwrap_or_else(|| panic!("no {name}"));
        text.parse()
            .unwrap_or_else(|_| panic!("{name} is {text:?}"))
    }
}

/// Tags with the text behind each; panics where the markup is not well formed.
fn parsed(markup: &str) -> Vec<(Tag<'_>, &str)> {
    let mut found = Vec::new();
    let mut rest = markup.strip_prefix("<!DOCTYPE html>").unwrap_or(markup);
    let mut open: Vec<&str> = Vec::new();
    while let Some(start) = rest.find('<') {
        rest = &rest[start + 1..];
        let end = end_of_tag(rest);
        let tag = tag(&rest[..end]);
        rest = &rest[end + 1..];
        let style = tag.name == "style" && !tag.closes;
        let text = &rest[..rest.find('<').unwrap_or(rest.len())];
        assert!(style || entities_are_known(text), "{text:?}");
        if tag.closes {
            assert_eq!(open.pop(), Some(tag.name), "closed out of order");
        } else if !tag.alone && !["meta", "br", "hr"].contains(&tag.name) {
            open.push(tag.name);
        }
        found.push((tag, text));
    }
    assert!(open.is_empty(), "never closed: {open:?}");
    found
}

/// Where a tag ends: at the first `>` outside quotes.
fn end_of_tag(text: &str) -> usize {
    let mut quoted = false;
    for (place, letter) in text.char_indices() {
        match letter {
            '"' => quoted = !quoted,
            '<' => panic!("a tag in a tag: {:?}", &text[..place]),
            '>' if !quoted => return place,
            _ => {}
        }
    }
    panic!("a tag without end: {text:.80?}");
}

fn tag(text: &str) -> Tag<'_> {
    let closes = text.starts_with('/');
    let alone = text.ends_with('/');
    let text = text.trim_start_matches('/').trim_end_matches('/');
    let (name, mut rest) = text.split_once(' ').unwrap_or((text, ""));
    assert!(
        !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric()),
        "{name:?} is no tag"
    );
    let mut attributes: Vec<(&str, &str)> = Vec::new();
    while let Some((key, after)) = rest.trim_start().split_once("=\"") {
        let (value, after) = after.split_once('"').expect("a closing quote");
        assert!(entities_are_known(value), "{value:?}");
        assert!(
            !attributes.iter().any(|(other, _)| *other == key),
            "{key} twice"
        );
        attributes.push((key, value));
        rest = after;
    }
    assert!(rest.trim().is_empty(), "left in a tag: {rest:?}");
    Tag {
        name,
        attributes,
        closes,
        alone,
    }
}

fn entities_are_known(text: &str) -> bool {
    let known = [
        "amp;", "lt;", "gt;", "quot;", "#39;", "#34;", "#38;", "#60;", "#62;",
    ];
    let mut after = text.split('&');
    after.next();
    after.all(|rest| known.iter().any(|entity| rest.starts_with(entity)))
}

/// A rectangle around a text: left, top, right, bottom.
type Frame = (f64, f64, f64, f64);

/// Widths of letters in DejaVu Sans, one of the widest common fonts, in thousandths of the size
/// (measured from the font).
fn thousandths(letter: char) -> u32 {
    match letter {
        'i' | 'j' | 'l' => 278,
        ' ' | '.' | ',' => 318,
        ':' | ';' | '/' => 337,
        'f' => 352,
        '-' => 361,
        't' | '(' | ')' => 392,
        'r' => 411,
        's' | 'z' | 'c' => 550,
        'k' | 'v' | 'x' | 'y' => 592,
        'w' => 818,
        'm' => 974,
        'M' => 863,
        'W' => 989,
        '%' => 950,
        'A'..='Z' => 787,
        _ => 636,
    }
}

/// About where a text lies.
fn frame(tag: &Tag, text: &str) -> Frame {
    let (x, y, size) = (tag.number("x"), tag.number("y"), tag.number("font-size"));
    let mut letters = text.to_owned();
    for (entity, letter) in [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#39;", "'"),
    ] {
        letters = letters.replace(entity, letter);
    }
    let letters = letters.replace("&amp;", "&");
    let wide = letters.chars().map(thousandths).sum::<u32>();
    let wide = f64::from(wide) / 1000.0 * size;
    if tag.get("transform").is_some() {
        return (x - size * 0.7, y - wide / 2.0, x, y + wide / 2.0);
    }
    let left = match tag.get("text-anchor") {
        Some("middle") => x - wide / 2.0,
        Some("end") => x - wide,
        _ => x,
    };
    (left, y - size * 0.7, left + wide, y)
}

fn meet(a: &Frame, b: &Frame) -> bool {
    a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3
}

/// Panics where a picture is not sound.
fn sound(picture: &Picture, what: &str) {
    let of = format!("{what}, {}", picture.id);
    let tags = parsed(&picture.svg);
    let (first, _) = tags.first().expect("a tag");
    let sheet = first.get("viewBox").expect("a viewBox");
    let sheet: Vec<f64> = sheet.split(' ').map(|n| n.parse().expect(n)).collect();
    let (wide, high) = (sheet[2], sheet[3]);
    assert!(
        wide == 360.0 && (60.0..1500.0).contains(&high),
        "{of}: {high}"
    );
    assert!(
        !picture.svg.contains("NaN") && !picture.svg.contains("inf\""),
        "{of}"
    );
    let mut frames: Vec<(Frame, &str)> = Vec::new();
    let inside = |(x, y): (f64, f64)| {
        assert!(
            (-1.0..=wide + 1.0).contains(&x) && (-1.0..=high + 1.0).contains(&y),
            "{of}: ({x}, {y}) is beyond the sheet of {wide} by {high}"
        );
    };
    let mut drawing = false;
    for (tag, text) in tags.iter().filter(|(tag, _)| !tag.closes) {
        drawing |= tag.name == "defs";
        match tag.name {
            "text" => {
                let frame = frame(tag, text);
                inside((frame.0, frame.1));
                inside((frame.2, frame.3));
                for (other, said) in &frames {
                    assert!(!meet(&frame, other), "{of}: {text:?} meets {said:?}");
                }
                frames.push((frame, text));
            }
            "polyline" => {
                let points = tag.get("points").expect("points").split(' ');
                for point in points {
                    let (x, y) = point.split_once(',').expect("x,y");
                    inside((x.parse().expect(x), y.parse().expect(y)));
                }
            }
            "rect" if drawing && tag.get("x").is_some() => {
                let (x, y) = (tag.number("x"), tag.number("y"));
                inside((x, y));
                inside((x + tag.number("width"), y + tag.number("height")));
            }
            _ => {}
        }
    }
    assert!(frames.len() > 3, "{of}: hardly a word in it");
    patterns_are_there(&tags, &of);
}

fn patterns_are_there(tags: &[(Tag, &str)], of: &str) {
    let ids: BTreeSet<&str> = tags.iter().filter_map(|(tag, _)| tag.get("id")).collect();
    for (tag, _) in tags {
        let fill = tag.get("fill").and_then(|fill| fill.strip_prefix("url(#"));
        if let Some(fill) = fill {
            assert!(ids.contains(fill.trim_end_matches(')')), "{of}: {fill}");
        }
    }
}

#[test]
fn pictures_of_every_example_and_of_builds_of_chance_are_sound() {
    let catalogue = common::catalogue();
    for (what, build) in builds(&catalogue, 300) {
        with(&catalogue, &build, |paper| {
            let all = pictures::all(paper);
            assert_eq!(all.len(), 10, "{what}");
            all.iter().for_each(|picture| sound(picture, &what));
        });
    }
}

#[test]
fn drawings_are_to_scale() {
    let catalogue = common::catalogue();
    let build = common::build(
        &catalogue,
        &[("travel_x_mm", "800"), ("travel_y_mm", "500")],
    );
    with(&catalogue, &build, |paper| {
        let all = pictures::all(paper);
        let plan = all.iter().find(|picture| picture.id == "plan");
        let tags = parsed(&plan.expect("the plan").svg);
        let dashed: Vec<&Tag> = (tags.iter().map(|(tag, _)| tag))
            .filter(|tag| tag.name == "rect" && tag.get("stroke-dasharray") == Some("7 4"))
            .collect();
        let [area] = dashed.as_slice() else {
            panic!("one working area")
        };
        let ratio = area.number("width") / area.number("height");
        assert!((ratio - 1.6).abs() < 0.01, "800 by 500 is drawn as {ratio}");
    });
}

#[test]
fn the_dossier_is_well_formed_and_its_links_lead_somewhere() {
    let catalogue = common::catalogue();
    for (what, build) in builds(&catalogue, 12) {
        let page = with(&catalogue, &build, |paper| {
            dossier::html(paper, &Speller::default())
        })
        .expect("a page");
        let tags = parsed(&page);
        let mut ids = BTreeSet::new();
        for id in tags.iter().filter_map(|(tag, _)| tag.get("id")) {
            assert!(ids.insert(id), "{what}: {id} twice");
        }
        for (tag, _) in &tags {
            if let Some(link) = tag.get("href") {
                let place = link.strip_prefix('#').expect("a link within the page");
                assert!(ids.contains(place), "{what}: {link} leads nowhere");
            }
            assert!(tag.get("src").is_none(), "{what}: loads something");
            let acts = tag.attributes.iter().any(|(key, _)| key.starts_with("on"));
            assert!(!acts && tag.name != "script", "{what}: {} acts", tag.name);
        }
        let pictures = tags
            .iter()
            .filter(|(tag, _)| tag.name == "svg" && !tag.closes);
        assert_eq!(pictures.count(), 10, "{what}");
        assert!(
            page.contains("content=\"default-src &#39;none&#39;;"),
            "{what}: no policy"
        );
    }
}

#[test]
fn what_a_file_says_never_becomes_markup() {
    let mut catalogue = common::catalogue();
    for material in catalogue.materials.values_mut() {
        material.title = HOSTILE.into();
    }
    for plan in catalogue.frames.values_mut() {
        for member in &mut plan.member {
            member.title = HOSTILE.into();
        }
    }
    let build = Build {
        title: HOSTILE.to_owned(),
        note: HOSTILE.to_owned(),
        ..Build::default()
    };
    with(&catalogue, &build, |paper| {
        let all = pictures::all(paper);
        all.iter().for_each(|picture| sound(picture, "hostile"));
    });
    let page = with(&catalogue, &build, |paper| {
        dossier::html(paper, &Speller::default())
    })
    .expect("a page");
    let tags = parsed(&page);
    assert!(
        tags.iter()
            .all(|(tag, _)| !["script", "img"].contains(&tag.name))
    );
    let steers = |letter: char| letter.is_control() && letter != '\n';
    assert!(!page.contains(steers) && !page.contains('\u{202e}'));
    assert!(page.contains("\\u{1b}[31m"), "the escape is spelled out");
}
