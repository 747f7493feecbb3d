//! What a search came to, as a page of text: what was searched, what was found, what that
//! changes; where nothing fits, what would have to give way.

use crate::commands::color::Paint;
use crate::commands::layout::{compared_heads, compared_row, hanging, table};
use crate::explore::effect::missing_in;
use crate::explore::find::{Found, FoundBuild, Request, told as words};
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::explore::trial::Bench;
use crate::words::Words as _;

/// Columns in front of what is said.
const LABEL: usize = 14;

/// The most rows of reasons for excluding.
const REASONS: usize = 8;

/// Columns of a share.
const SHARE: usize = 19;

/// A search and what it came to.
#[derive(Clone, Copy)]
pub(super) struct Page<'a> {
    pub(super) bench: &'a Bench<'a>,
    pub(super) request: &'a Request,
    pub(super) found: &'a Found,
    pub(super) paint: Paint,
}

impl Page<'_> {
    /// All of it.
    pub(super) fn text(self) -> String {
        let Self {
            bench,
            request,
            found,
            paint,
        } = self;
        let currency = bench.before.bill.currency;
        let headline = words::headline(found, request);
        let mut page = format!("{}\n", paint.heading(&headline));
        let wanted = words::all_wanted(request, bench.catalogue, currency);
        if request.against.is_some() {
            page.push_str(&hanging("Sought", LABEL, &words::sought(request)));
        }
        page.push_str(&hanging("Wanted", LABEL, &wanted));
        page.push_str(&hanging("Searched", LABEL, &words::how(found)));
        page.push_str(&hanging("Bought", LABEL, &bought(found)));
        page.push_str(&hanging("Kept", LABEL, &self.frame_kept()));
        page.push('\n');
        if found.answers.is_empty() {
            page.push_str(&self.nothing());
        } else if request.against.is_some() {
            page.push_str(&self.compared());
        }
        for (place, one) in found.answers.iter().enumerate() {
            if place > 0 || request.against.is_some() {
                page.push('\n');
            }
            let label = match request.against {
                Some(_) => format!("{}  ", place + 1),
                None => String::new(),
            };
            page.push_str(&self.answer(&label, one));
        }
        page.push_str(&self.excluded());
        page.truncate(page.trim_end().len());
        page.push('\n');
        page
    }

    /// Which choices of the frame stay, and what lets them change.
    fn frame_kept(self) -> String {
        let kept = words::frame_kept(&self.request.free, self.bench.catalogue);
        let ids: Vec<&str> = kept.iter().map(|choice| choice.id).collect();
        match ids.is_empty() {
            true => String::new(),
            false => format!(
                "the frame, as it is; --also with any of these lets it change: {}",
                ids.join(", ")
            ),
        }
    }

    /// All builds below the one at hand.
    fn compared(self) -> String {
        let before = Reading::of(self.bench.before);
        let numbers = &self.paint.numbers();
        let mut rows = compared_heads(numbers, before.cost.currency);
        rows.push(compared_row("now".to_owned(), &before, numbers));
        for (place, one) in self.found.answers.iter().enumerate() {
            let name = (place + 1).to_string();
            rows.push(compared_row(name, &one.reading, numbers));
        }
        table(">>>>>>>>", &rows)
    }

    /// One build: what it costs, what it changes, every figure before and after.
    fn answer(self, label: &str, one: &FoundBuild) -> String {
        let bench = self.bench;
        let price = one.reading.cost.likely - bench.before.bill.total.likely;
        let title = told::price(price, one.reading.cost.currency);
        let title = format!("{label}Against the build at hand it {title}");
        let mut text = format!("{}\n", self.paint.heading(&title));
        let mut say = |label: &str, words: &str| {
            text.push_str(&hanging(&format!("  {label}"), LABEL, words));
        };
        if one.edits.is_empty() {
            say("changes", "none: it is the build at hand");
        }
        let changes = words::changes(bench.catalogue, bench.build, &one.edits);
        for (place, (choice, words)) in changes.iter().enumerate() {
            let label = if place == 0 { "changes" } else { "" };
            say(label, &format!("{choice}: {words}"));
        }
        // Of many builds the table above tells the figures.
        let before = match self.request.against {
            Some(_) => Vec::new(),
            None => words::figures(&Reading::of(bench.before)),
        };
        for ((name, was), (_, is)) in before.into_iter().zip(words::figures(&one.reading)) {
            let words = match was == is {
                true => format!("{is}, as now"),
                false => format!("{was} -> {is}"),
            };
            // Turned before it is laid out, or what stands left in its column would move.
            say(name, &self.paint.numbers().spell(&words));
        }
        let (these, those) = (&one.assessment.findings, &bench.before.findings);
        for (label, findings) in [
            ("new", missing_in(these, those)),
            ("gone", missing_in(those, these)),
        ] {
            for (place, words) in told::warned(&findings).iter().enumerate() {
                say(if place == 0 { label } else { "" }, words);
            }
        }
        text
    }

    /// Where nothing fits: what would have to give way.
    fn nothing(self) -> String {
        let Self {
            bench,
            request,
            found,
            paint,
        } = self;
        if !found.is_proven() {
            return String::new();
        }
        let currency = bench.before.bill.currency;
        let mut text = String::new();
        if !found.relaxed.is_empty() {
            let head = "One target less strict, and something fits";
            text.push_str(&format!("{}\n", paint.heading(head)));
        }
        for one in &found.relaxed {
            let Some(was) = request.targets.get(one.target) else {
                continue;
            };
            text.push_str(&hanging(
                "-",
                2,
                &words::relaxed(was, &one.to, bench.catalogue, currency),
            ));
            text.push_str(&self.answer("  ", &one.answer));
            text.push('\n');
        }
        if !found.fixed.is_empty() {
            let head = "These stand whatever is chosen";
            text.push_str(&format!("{}\n", paint.heading(head)));
            for finding in &found.fixed {
                let severity = finding.severity.title();
                text.push_str(&hanging(
                    "-",
                    2,
                    &format!("{severity}: {}", finding.message),
                ));
            }
            let remedy = "Change what they are about, or free more choices with --also.";
            text.push_str(&hanging("", 0, remedy));
        } else if found.relaxed.is_empty() {
            let early = format!(
                "{} Fewer free choices, those that the targets hang on (--free), or more work (--effort) settle more.",
                words::TOO_EARLY
            );
            let words = match request.targets.len() {
                _ if !found.is_proven() => early.as_str(),
                0 | 1 => "Free more choices with --also, or ask for less.",
                _ => {
                    "No single target is to blame: relax two or more of them, or free more choices with --also."
                }
            };
            text.push_str(&hanging("", 0, words));
        }
        text
    }

    /// Why combinations needed no look, the most frequent reason first.
    fn excluded(self) -> String {
        let Self {
            bench,
            request,
            found,
            paint,
        } = self;
        let currency = bench.before.bill.currency;
        let reasons = words::reasons(found, request, bench.catalogue, currency, REASONS);
        if reasons.is_empty() {
            return String::new();
        }
        let head = "Excluded many at once, since all of them";
        let mut text = format!("\n{}\n", paint.heading(head));
        for (share, words) in reasons {
            text.push_str(&hanging(&format!("  {share}"), SHARE, &words));
        }
        text
    }
}

/// What would be free, were it not bought.
fn bought(found: &Found) -> String {
    let names: Vec<&str> = found
        .space
        .bought
        .iter()
        .map(|choice| choice.title)
        .collect();
    match names.is_empty() {
        true => String::new(),
        false => format!("{}; they stay", names.join(", ")),
    }
}
