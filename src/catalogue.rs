//! What exists: every kind of part with its physical data, the frame plans, materials,
//! sites and price books, as one value that never changes while a build is assessed.
//!
//! Data come in layers of files (the embedded ones, then the user's); a later layer adds
//! entries or replaces those of the same id. This room does not open files: `store` reads
//! them and hands over [`CatalogueFile`]s.

use std::collections::HashMap;
use std::sync::Arc;

use indexmap::IndexMap;
use serde::Deserialize;

mod amounts;
pub mod check;
pub mod control;
mod day;
pub mod destination;
pub mod drive_part;
pub mod extras;
pub mod fields;
pub mod frame;
pub mod glossary;
pub mod guide;
pub mod job;
pub mod linear_drive;
pub mod material;
pub mod motor;
pub mod ordering;
mod own_file;
pub mod own_rule;
pub mod part;
mod priced;
pub mod prices;
pub mod quantity;
pub mod reader;
pub mod said;
pub mod site;
pub mod spindle;
mod step;
pub mod structure;
pub mod supplier;
pub mod task;
pub mod text;
pub mod thread;
pub mod wiring;
pub mod yearly;

pub use drive_part::{LinearDrive, Motor, Screw};
pub use own_file::OwnFile;
pub use part::{Id, Part, Unit};
use reader::{Placed, ReadError};
pub use step::Step;
pub use text::Text;

/// A table of parts of one kind, in the order of the files.
pub type Shelf<T> = IndexMap<Id, T, FastHash>;

/// How keys are hashed that are looked up hundreds of times in one assessment. It is seeded
/// anew by each run, so that nobody can easily write a file whose keys collide.
pub type FastHash = foldhash::fast::RandomState;

/// Declares the catalogue: for each kind its shelf, its key in files and its title. To add
/// a kind of part, add its type in a file of this room and its line here.
macro_rules! shelves {
    ($($(#[$doc:meta])* $shelf:ident : $type:ty = $kind:ident, $key:literal, $title:literal;)+) => {
        /// Everything that exists.
        #[derive(Clone, Debug, Default)]
        pub struct Catalogue {
            $($(#[$doc])* pub $shelf: Shelf<$type>,)+
            /// Price books, the one that wins last.
            pub price_books: Shelf<prices::PriceBook>,
            /// Which of them prices a part, the last that has it, and at which place.
            priced: HashMap<Id, (usize, usize), FastHash>,
            /// On which shelf an entry was put last: where to look first.
            shelved: HashMap<Id, PartKind, FastHash>,
            /// Stages of buying, in their order.
            pub order_stages: Vec<ordering::OrderStage>,
            /// Quantity rules, by part and count.
            pub quantities: Vec<quantity::QuantityRule>,
            /// Yearly rules, by what is used up.
            pub yearly: Vec<yearly::YearlyRule>,
            /// Tasks of the checklist, in their order.
            pub tasks: Vec<task::Task>,
            /// Words and what they mean.
            pub glossary: Vec<glossary::Entry>,
            /// What is said about the fields of parts.
            pub field_texts: Vec<fields::FieldText>,
            /// Rules of one's own, in their order.
            pub own_rules: Vec<Arc<own_rule::OwnRule>>,
            /// What files say of the fields that these rules name, by part and key.
            pub said: HashMap<Id, said::Fields, FastHash>,
            /// Parts that are not built in, each with the file that it stands in.
            pub own: HashMap<Id, Arc<OwnFile>, FastHash>,
            /// A short mark of the texts that all of it was read from; empty where nobody set it.
            pub mark: String,
        }

        /// The kinds of entry in the catalogue.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum PartKind { $($(#[$doc])* $kind,)+ }

        impl PartKind {
            /// Every kind, in the order of the catalogue.
            pub const ALL: &'static [PartKind] = &[$(PartKind::$kind),+];
            /// The key of the kind in files.
            pub fn key(self) -> &'static str { match self { $(PartKind::$kind => $key,)+ } }
            /// How people call the kind.
            pub fn title(self) -> &'static str { match self { $(PartKind::$kind => $title,)+ } }
            /// The fields of its entries, in the order in which their type declares them.
            pub fn fields(self) -> Vec<fields::Field> {
                match self { $(PartKind::$kind => fields::fields_of::<$type>(),)+ }
            }
        }

        /// One file of the catalogue, as TOML gives it: arrays of tables by kind, each entry
        /// with its place in the file.
        #[derive(Debug, Default, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct CatalogueFile {
            $(#[serde(default, rename = $key)] $shelf: Vec<Placed<$type>>,)+
            #[serde(default, rename = "price-book")]
            price_books: Vec<Placed<prices::PriceBook>>,
            #[serde(default, rename = "order-stage")]
            order_stages: Vec<Placed<ordering::OrderStage>>,
            #[serde(default, rename = "quantity")]
            quantities: Vec<Placed<quantity::QuantityRule>>,
            #[serde(default)]
            yearly: Vec<Placed<yearly::YearlyRule>>,
            #[serde(default, rename = "task")]
            tasks: Vec<Placed<task::Task>>,
            #[serde(default, rename = "word")]
            words: Vec<Placed<glossary::Entry>>,
            #[serde(default, rename = "rule")]
            own_rules: Vec<Placed<own_rule::OwnRule>>,
            #[serde(default, rename = "field")]
            fields: Vec<fields::FieldText>,
        }

        impl CatalogueFile {
            /// Reads the text of a file.
            ///
            /// # Errors
            /// Where it is not TOML, or has something that no entry can be.
            pub fn read(text: &str) -> Result<Self, ReadError> {
                reader::read(text)
            }

            /// Every entry of the file with its place in bytes.
            pub fn entries(&self) -> Vec<(check::Record, std::ops::Range<usize>)> {
                use check::Record;
                let mut found = Vec::new();
                $(for one in &self.$shelf {
                    found.push((Record::Part(one.value().id), one.place()));
                })+
                for one in &self.price_books {
                    let book = one.value();
                    found.push((Record::Book(book.id), one.place()));
                    for (part, entry) in &book.prices {
                        found.push((Record::Price(book.id, *part), entry.place()));
                    }
                }
                for one in &self.order_stages {
                    found.push((Record::Stage(one.value().id), one.place()));
                }
                for one in &self.quantities {
                    let rule = one.value();
                    found.push((Record::Rule(rule.part, rule.per), one.place()));
                }
                for one in &self.yearly {
                    found.push((Record::Yearly(one.value().part.clone()), one.place()));
                }
                for one in &self.tasks {
                    found.push((Record::Task(one.value().id), one.place()));
                }
                for one in &self.words {
                    found.push((Record::Word(one.value().id), one.place()));
                }
                for one in &self.own_rules {
                    found.push((Record::OwnRule(one.value().id), one.place()));
                }
                found
            }

            /// Notes in its rules the file that they stand in.
            pub fn stands_in(&mut self, name: &str) {
                let rules = self.own_rules.iter_mut();
                rules.for_each(|one| one.value_mut().stands_in(name));
            }
        }

        $(impl part::OfKind for $type {
            fn kind(&self) -> PartKind {
                PartKind::$kind
            }
        })+

        impl Catalogue {
            /// Adds the entries of a file; those of a known id replace the older ones.
            pub fn absorb(&mut self, file: CatalogueFile) {
                $(self.shelved.reserve(file.$shelf.len());
                for one in file.$shelf {
                    let one = one.into_value();
                    // An id that stands on two shelves is found on the first.
                    let kind = PartKind::$kind;
                    let shelf = self.shelved.entry(one.id).or_insert(kind);
                    *shelf = kind.min(*shelf);
                    self.$shelf.insert(one.id, one);
                })+
                if !file.price_books.is_empty() {
                    for book in file.price_books {
                        let book = book.into_value();
                        self.price_books.shift_remove(&book.id);
                        self.price_books.insert(book.id, book);
                    }
                    self.index_prices();
                }
                for stage in file.order_stages {
                    let stage = stage.into_value();
                    // A replaced stage keeps its place in the order.
                    match self.order_stages.iter_mut().find(|old| old.id == stage.id) {
                        Some(old) => *old = stage,
                        None => self.order_stages.push(stage),
                    }
                }
                for rule in file.quantities {
                    let rule = rule.into_value();
                    let same = |old: &&mut quantity::QuantityRule| {
                        (&old.part, old.per) == (&rule.part, rule.per)
                    };
                    // A replaced rule keeps its place in the bill.
                    match self.quantities.iter_mut().find(same) {
                        Some(old) => *old = rule,
                        None => self.quantities.push(rule),
                    }
                }
                for rule in file.yearly {
                    let rule = rule.into_value();
                    // A replaced rule keeps its place among the running costs.
                    match self.yearly.iter_mut().find(|old| old.part == rule.part) {
                        Some(old) => *old = rule,
                        None => self.yearly.push(rule),
                    }
                }
                for task in file.tasks {
                    let task = task.into_value();
                    // A replaced task keeps its place in the order.
                    match self.tasks.iter_mut().find(|old| old.id == task.id) {
                        Some(old) => *old = task,
                        None => self.tasks.push(task),
                    }
                }
                let words = file.words.into_iter().map(Placed::into_value);
                glossary::absorb(&mut self.glossary, words.collect());
                for rule in file.own_rules {
                    own_rule::absorb(&mut self.own_rules, rule.into_value());
                }
                self.absorb_field_texts(file.fields);
            }

            /// The entry of an id, whatever its kind.
            pub fn part(&self, id: &str) -> Option<(PartKind, &dyn Part)> {
                let likely = self.shelved.get(id).and_then(|&kind| self.on_shelf(kind, id));
                if likely.is_some() {
                    return likely;
                }
                $(if let Some(one) = self.$shelf.get(id) { return Some((PartKind::$kind, one)); })+
                None
            }

            fn on_shelf(&self, kind: PartKind, id: &str) -> Option<(PartKind, &dyn Part)> {
                match kind { $(PartKind::$kind => {
                    let one = self.$shelf.get(id)?;
                    Some((PartKind::$kind, one))
                })+ }
            }

            /// Every entry of a kind, in order.
            pub fn of_kind(&self, kind: PartKind) -> Vec<&dyn Part> {
                match kind { $(PartKind::$kind => self.$shelf.values().map(|one| one as &dyn Part).collect(),)+ }
            }
        }
    };
}

shelves! {
    /// Steel tubes.
    tubes: structure::Tube = Tube, "tube", "steel tube";
    /// Aluminium plates.
    plates: structure::Plate = Plate, "plate", "aluminium plate";
    /// Aluminium angles.
    angles: structure::Angle = Angle, "angle", "aluminium angle";
    /// Printing materials.
    filaments: structure::Filament = Filament, "filament", "printing material";
    /// Profile rails.
    rails: guide::Rail = Rail, "rail", "profile rail";
    /// Carriages.
    carriages: guide::Carriage = Carriage, "carriage", "carriage";
    /// Ball screws.
    ball_screws: linear_drive::BallScrew = BallScrew, "ball-screw", "ball screw";
    /// Lead screws.
    lead_screws: linear_drive::LeadScrew = LeadScrew, "lead-screw", "lead screw";
    /// Racks.
    racks: linear_drive::Rack = Rack, "rack", "rack and pinion";
    /// Belts.
    belts: linear_drive::Belt = Belt, "belt", "toothed belt";
    /// Support units.
    support_units: linear_drive::SupportUnit = SupportUnit, "support-unit", "support unit";
    /// Couplings.
    couplings: linear_drive::Coupling = Coupling, "coupling", "coupling";
    /// Steppers.
    steppers: motor::Stepper = Stepper, "stepper", "stepper motor";
    /// Servos.
    servos: motor::Servo = Servo, "servo", "servo motor";
    /// Drivers.
    drivers: motor::Driver = Driver, "driver", "motor driver";
    /// Supplies.
    supplies: motor::Supply = Supply, "supply", "DC supply";
    /// Spindles.
    spindles: spindle::Spindle = Spindle, "spindle", "spindle";
    /// Inverters.
    vfds: spindle::Vfd = Vfd, "vfd", "frequency inverter (VFD)";
    /// Spindle clamps.
    spindle_clamps: spindle::SpindleClamp = SpindleClamp, "spindle-clamp", "spindle clamp";
    /// Coolers.
    coolers: spindle::Cooler = Cooler, "cooler", "spindle cooler";
    /// End mills.
    end_mills: spindle::EndMill = EndMill, "end-mill", "end mill";
    /// Controllers.
    controllers: control::Controller = Controller, "controller", "motion controller";
    /// Computers.
    computers: control::Computer = Computer, "computer", "computer";
    /// Licences.
    licences: control::Licence = Licence, "licence", "tool-path licence";
    /// Switches.
    switches: control::Switch = Switch, "switch", "limit switch";
    /// Cables.
    cables: wiring::Cable = Cable, "cable", "cable";
    /// Chains.
    chains: wiring::Chain = Chain, "chain", "cable chain";
    /// Cabinets.
    cabinets: wiring::Cabinet = Cabinet, "cabinet", "cabinet";
    /// Fans.
    fans: wiring::Fan = Fan, "fan", "cabinet fan";
    /// Enclosures.
    enclosures: wiring::Enclosure = Enclosure, "enclosure", "enclosure";
    /// Extractors.
    extractors: extras::Extractor = Extractor, "extractor", "extractor";
    /// Tables.
    tables: extras::Table = Table, "table", "stand";
    /// Tool-length sensors.
    tool_sensors: extras::ToolSensor = ToolSensor, "tool-sensor", "tool-length sensor";
    /// Coolants.
    coolants: extras::Coolant = Coolant, "coolant", "cutting coolant";
    /// Workholding sets.
    workholdings: extras::Workholding = Workholding, "workholding", "workholding";
    /// Small parts.
    sundries: extras::Sundry = Sundry, "sundry", "small part";
    /// Jobs.
    jobs: job::Job = Job, "job", "job";
    /// Materials to be cut.
    materials: material::Material = Material, "material", "material to cut";
    /// Sites.
    sites: site::Site = Site, "site", "wall socket";
    /// Suppliers.
    suppliers: supplier::Supplier = Supplier, "supplier", "supplier";
    /// Places that goods are delivered to.
    destinations: destination::Destination = Destination, "destination", "destination";
    /// Frame plans.
    frames: frame::FramePlan = Frame, "frame", "frame plan";
}

impl PartKind {
    /// Whether entries of the kind are bought, and so need a price.
    pub fn is_bought(self) -> bool {
        !matches!(
            self,
            PartKind::Job
                | PartKind::Material
                | PartKind::Site
                | PartKind::Supplier
                | PartKind::Destination
                | PartKind::Frame
        )
    }
}

impl Catalogue {
    /// How every part is called, in full and in short.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let kinds = PartKind::ALL.iter();
        let parts = kinds.flat_map(|kind| self.of_kind(*kind));
        parts.flat_map(|part| [part.title(), part.short()])
    }
}
