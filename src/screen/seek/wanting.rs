//! The two fields in which a target is put together: what is wanted, and how much of it.

use crate::assessment::FigureValue;
use crate::build::{Axis, Build};
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::explore::find::{Target, target};
use crate::explore::reading::{Measure, Reading};
use crate::machine::cutting::Verdict;
use crate::rules::Severity;
use crate::screen::around::around;
use crate::screen::text::fits;
use crate::screen::typed::Typed;
use crate::units::entry::{self, Unread};
use crate::units::{self, Shown};
use crate::words::Words as _;

/// How many parts are named where a text fits several.
const NAMED: usize = 4;

/// The fields.
#[derive(Clone, Debug)]
pub struct Wanting {
    /// The target that is changed; none for another one.
    pub place: Option<usize>,
    /// What can be wanted.
    kinds: Vec<Kind>,
    /// What is wanted, among those.
    at: usize,
    /// How much, or which part.
    pub text: Typed,
    /// How well a material is cut.
    verdict: Verdict,
    /// Whether the cursor is in the second field.
    pub in_amount: bool,
    /// How numbers are typed.
    shown: Shown,
}

/// Something that can be wanted.
#[derive(Clone, Debug, PartialEq)]
enum Kind {
    Figure(Measure),
    Rapids(Axis),
    Width,
    Depth,
    Cautions,
    Cuts(Id),
    Has,
    Without,
}

impl Wanting {
    /// The fields for another target, or for one that is there.
    pub fn new(catalogue: &Catalogue, place: Option<(usize, &Target)>, shown: Shown) -> Self {
        let figures = [
            Measure::Rapids,
            Measure::Stiffness,
            Measure::Removal,
            Measure::Current,
            Measure::Cost,
        ];
        let mut kinds: Vec<Kind> = figures.into_iter().map(Kind::Figure).collect();
        kinds.extend(Axis::EACH.map(Kind::Rapids));
        let materials = catalogue.materials.values();
        kinds.extend(materials.map(|one| Kind::Cuts(one.id)));
        kinds.extend([
            Kind::Width,
            Kind::Depth,
            Kind::Cautions,
            Kind::Has,
            Kind::Without,
        ]);
        let mut fields = Self {
            place: place.map(|(place, _)| place),
            kinds,
            at: 0,
            text: Typed::proposed(""),
            verdict: Verdict::WithCare,
            in_amount: false,
            shown,
        };
        if let Some((_, target)) = place {
            fields.fill(target);
        }
        fields
    }

    /// Puts a target in.
    fn fill(&mut self, target: &Target) {
        let (kind, text) = match target {
            Target::Figure(measure, bound) => {
                let text = entry::typed(*bound, measure.unit(), self.shown);
                (Kind::Figure(*measure), text)
            }
            Target::Rapids(axis, least) => {
                let text = entry::typed(*least, Measure::Rapids.unit(), self.shown);
                (Kind::Rapids(*axis), text)
            }
            Target::Width(most) => (Kind::Width, self.length(units::mm::from(*most))),
            Target::Depth(most) => (Kind::Depth, self.length(units::mm::from(*most))),
            Target::Cautions(most) => (Kind::Cautions, most.to_string()),
            Target::Cuts(material, verdict) => {
                self.verdict = *verdict;
                (Kind::Cuts(*material), String::new())
            }
            Target::Has(part) => (Kind::Has, part.to_string()),
            Target::Without(part) => (Kind::Without, part.to_string()),
        };
        let known = self.kinds.iter().position(|one| *one == kind);
        self.at = known.unwrap_or_default();
        self.text = Typed::proposed(text);
        self.in_amount = true;
    }

    /// A length as it is typed.
    fn length(&self, mm: f64) -> String {
        entry::typed(mm, "mm", self.shown)
    }

    /// What is wanted.
    fn kind(&self) -> &Kind {
        // The list is never empty, and `at` stays within it.
        self.kinds.get(self.at).unwrap_or(&Kind::Has)
    }

    /// The words of the first field.
    pub fn what(&self, catalogue: &Catalogue) -> String {
        match self.kind() {
            Kind::Figure(measure) => {
                let way = match measure.more_is_better() {
                    true => "at least",
                    false => "at most",
                };
                format!("{}, {way}", measure.title())
            }
            Kind::Rapids(axis) => format!("{} rapids, at least", axis.title()),
            Kind::Width => "width along X, at most".to_owned(),
            Kind::Depth => "depth along Y, at most".to_owned(),
            Kind::Cautions => "cautions, at most".to_owned(),
            Kind::Cuts(material) => {
                let known = catalogue.materials.get(material);
                format!("cuts {}, at least", known.map_or("it", |one| &one.title))
            }
            Kind::Has => "has this part".to_owned(),
            Kind::Without => "is without this part".to_owned(),
        }
    }

    /// What the first field's words mean, in a sentence.
    pub fn plain(&self) -> &'static str {
        match self.kind() {
            Kind::Figure(measure) => measure.word().plain,
            Kind::Rapids(_) => "Speed of this axis alone, without cutting.",
            Kind::Width | Kind::Depth => {
                "The room that the machine takes on the floor, with everything that moves."
            }
            Kind::Cautions => Severity::Caution.word().plain,
            Kind::Cuts(_) => self.verdict.word().plain,
            Kind::Has | Kind::Without => "Words of the part's name, or its id.",
        }
    }

    /// The unit of the second field; empty where it takes none.
    pub fn unit(&self, build: &Build, catalogue: &Catalogue) -> String {
        match self.kind() {
            Kind::Figure(Measure::Cost) => {
                let site = catalogue.sites.get(&build.area.site);
                site.map_or_else(String::new, |site| site.currency.code().to_owned())
            }
            Kind::Figure(measure) => entry::unit_of(measure.unit(), self.shown).to_owned(),
            Kind::Rapids(_) => entry::unit_of(Measure::Rapids.unit(), self.shown).to_owned(),
            Kind::Width | Kind::Depth => entry::unit_of("mm", self.shown).to_owned(),
            Kind::Cautions | Kind::Cuts(_) | Kind::Has | Kind::Without => String::new(),
        }
    }

    /// The answer of the second field, where it has some to go through and takes no text.
    pub fn picked(&self) -> Option<&'static str> {
        matches!(self.kind(), Kind::Cuts(_)).then(|| self.verdict.title())
    }

    /// The text that is being typed in.
    pub fn field(&self) -> Option<&Typed> {
        self.is_typed().then_some(&self.text)
    }

    /// The same, to be changed.
    pub fn field_mut(&mut self) -> Option<&mut Typed> {
        self.is_typed().then_some(&mut self.text)
    }

    fn is_typed(&self) -> bool {
        self.in_amount && self.picked().is_none()
    }

    /// Goes to the other field.
    pub fn turn(&mut self) {
        self.in_amount = !self.in_amount;
    }

    /// Goes to the next answer of a field that has some; false where it takes text.
    pub fn change(&mut self, on: bool) -> bool {
        if !self.in_amount {
            self.at = around(self.at, self.kinds.len(), on);
            return true;
        }
        if self.picked().is_none() {
            return false;
        }
        let all = Verdict::ALL;
        // What is cut "at least not" is no target.
        let place = around(self.verdict.index().saturating_sub(1), all.len() - 1, on);
        self.verdict = all[place + 1];
        true
    }

    /// Puts the figure that the build has now in, as long as nobody typed one.
    pub fn follow(&mut self, now: &Reading, footprint: (f64, f64)) {
        if self.place.is_some() {
            return;
        }
        let text = match self.kind() {
            Kind::Figure(measure) => now.value(*measure).map(|value| self.met(&value)),
            Kind::Rapids(axis) => Some(self.met(&now.rapid(*axis))),
            Kind::Width => Some(self.length(footprint.0.ceil())),
            Kind::Depth => Some(self.length(footprint.1.ceil())),
            Kind::Cautions => Some(target::cautions(now).to_string()),
            _ => None,
        };
        self.text.propose(text.unwrap_or_default());
    }

    /// A figure as it is typed, rounded to the side on which the build that has it still does it.
    fn met(&self, value: &FigureValue) -> String {
        let scale = 10_f64.powi(i32::try_from(value.digits).unwrap_or_default());
        let number = match value.more_is_better {
            Some(false) => (value.number * scale).ceil() / scale,
            _ => (value.number * scale).floor() / scale,
        };
        entry::typed(number, value.unit, self.shown)
    }

    /// Whether it is a number of things.
    pub fn is_count(&self) -> bool {
        matches!(self.kind(), Kind::Cautions)
    }

    /// The target that the fields say.
    ///
    /// # Errors
    /// Says what is wrong with them.
    pub fn read(&self, catalogue: &Catalogue) -> Result<Target, String> {
        let typed = self.text.value().trim();
        let plain = |unit: &str| match self.shown.is_plain() || typed.is_empty() {
            true => Ok(typed.to_owned()),
            false => match entry::as_plain(typed, unit, self.shown) {
                Err(Unread::NoNumber) => Ok(typed.to_owned()),
                other => other.map_err(|error| error.to_string()),
            },
        };
        let text = match self.kind() {
            Kind::Figure(measure) => {
                format!("{}={}", measure.id(), plain(measure.unit())?)
            }
            Kind::Rapids(axis) => {
                let typed = plain(Measure::Rapids.unit())?;
                format!("{}:{}={typed}", Measure::Rapids.id(), axis.id())
            }
            Kind::Width => format!("width={}", plain("mm")?),
            Kind::Depth => format!("depth={}", plain("mm")?),
            Kind::Cautions => format!("cautions={typed}"),
            Kind::Cuts(material) => format!("cuts:{material}={}", self.verdict.id()),
            Kind::Has => return part(typed, catalogue).map(Target::Has),
            Kind::Without => return part(typed, catalogue).map(Target::Without),
        };
        Target::parse(&text, catalogue)
    }
}

/// The part that a text means: by its id, or by words of its name that fit no other.
fn part(text: &str, catalogue: &Catalogue) -> Result<Id, String> {
    if let Some((_, part)) = catalogue.part(text) {
        return Ok(*part.id());
    }
    if text.is_empty() {
        return Err("type words of the part's name, or its id".to_owned());
    }
    let wanted = text.to_lowercase();
    let kinds = PartKind::ALL.iter();
    let fits: Vec<_> = kinds
        .flat_map(|kind| catalogue.of_kind(*kind))
        .filter(|part| fits(part.title(), &wanted))
        .collect();
    match fits.as_slice() {
        [] => Err(format!("no part is called {text:?}")),
        [one] => Ok(*one.id()),
        many => {
            let names = many.iter().take(NAMED).map(|part| part.title());
            let mut names = names.collect::<Vec<_>>().join("; ");
            if many.len() > NAMED {
                names.push_str("; and others");
            }
            Err(format!("{} parts are called so: {names}", many.len()))
        }
    }
}
