//! Pictures for those who would rather look than read: the machine to scale, money, torque,
//! give, current, removal. Each is one SVG, drawn by hand, that needs nothing beside itself.
//!
//! A picture shows figures of the assessment and computes none. It is 360 units wide, so that
//! its letters are readable on a phone; everything stands in rows of its own, so that nothing
//! meets however long a name is.

pub mod cost;
mod machine;
mod parted;
mod pen;
mod power;
mod removal;
mod room;
pub mod seen;
pub mod stand;
pub mod stiffness;
pub mod torque;
pub(in crate::sheets) mod words;

use crate::build::Axis;
use crate::sheets::Paper;
use pen::Pen;

/// One picture.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Its name in a file: kebab-case.
    pub id: &'static str,
    /// Its heading.
    pub title: String,
    /// How to read it.
    pub about: String,
    /// The picture: an SVG element.
    pub svg: String,
    /// Whether numbers stand along an axis in it, without their unit.
    pub is_scaled: bool,
}

impl Picture {
    fn new(id: &'static str, title: &str, about: String, pen: Pen, high: f64) -> Self {
        Self {
            svg: pen.done(high, title, &about),
            id,
            title: title.to_owned(),
            about,
            is_scaled: false,
        }
    }
}

/// Every picture of a build.
pub fn all(paper: &Paper) -> Vec<Picture> {
    let mut pictures = vec![
        machine::plan(paper),
        machine::front(paper),
        room::picture(paper),
        cost::picture(paper),
    ];
    pictures.extend(Axis::EACH.map(|axis| torque::picture(paper, axis)));
    pictures.extend([
        stiffness::picture(paper),
        power::picture(paper),
        removal::picture(paper),
    ]);
    pictures
}
