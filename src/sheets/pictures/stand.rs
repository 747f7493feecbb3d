//! Where the pieces of a machine stand, in millimetres, as far as plan and parts tell: what the
//! drawings to scale are drawn from.
//!
//! The tool's axis is the middle of both drawings; the table's top is the level that heights are
//! counted from. The tool is drawn in the middle of its travel. A plan says how long its pieces
//! are and what they ride on, seldom where they stand: they are stacked as they carry each
//! other, pieces of one kind in even distances.

use crate::build::Axis;
use crate::catalogue::frame::{Layout, Rides, Role};
use crate::machine::geometry::{MemberCut, PlateCut};
use crate::sheets::Paper;
use crate::units::{self, Length, show};

/// What a piece is, for its fill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The beam.
    Beam,
    /// Sides, cross members.
    Base,
    /// Uprights and legs.
    Post,
    /// Plates that move.
    Plate,
    /// The table and what carries it.
    Table,
    /// Spindle and clamp.
    Spindle,
    /// The tool.
    Tool,
}

/// A piece as an upright rectangle: left, lower, right, upper edge in mm.
#[derive(Clone, Copy, Debug)]
pub struct Block {
    /// What it is.
    pub what: What,
    /// Left edge.
    pub left: f64,
    /// Lower edge.
    pub low: f64,
    /// Right edge.
    pub right: f64,
    /// Upper edge.
    pub high: f64,
}

impl Block {
    /// The least rectangle around this piece and another.
    pub(super) fn with(self, other: &Self) -> Self {
        Self {
            what: self.what,
            left: self.left.min(other.left),
            low: self.low.min(other.low),
            right: self.right.max(other.right),
            high: self.high.max(other.high),
        }
    }
}

/// As many pieces of one mark are drawn; the key counts them all.
const MOST: u32 = 60;

/// The measures that both drawings share, in mm.
pub struct Stand<'a> {
    paper: &'a Paper<'a>,
    /// From the middle to a side's middle.
    side: f64,
    /// From the middle to a Y rail.
    pub(super) rail: f64,
    /// From the middle to an upright's middle.
    post: f64,
    /// From the tool's axis back to the beam's middle.
    pub(super) beam: f64,
    /// From the tool's axis back to the middle of the Y rails.
    pub(super) base: f64,
    /// Level of the floor below the table's top.
    pub(super) floor: f64,
    /// Level of the sides' upper edge.
    side_top: f64,
    /// How high the sides stand on legs; nothing where there are none.
    legs: f64,
    /// Level of the beam's lower edge.
    pub(super) under: f64,
    /// Level of the spindle's nose, in the middle of its travel.
    pub(super) nose: f64,
    /// How far it comes down: as far as it travels, or until the usual tool meets the table.
    pub(super) down: f64,
}

fn mm(length: Length) -> f64 {
    units::mm::from(length)
}

impl<'a> Stand<'a> {
    pub(super) fn of(paper: &'a Paper<'a>) -> Self {
        let (picked, machine) = (paper.picked, &paper.assessment.machine);
        let (plan, area) = (picked.frame, &paper.build.area);
        let levers = &machine.stiffness.levers;
        let under = mm(area.clearance);
        let tube = mm(picked.base_tube.height);
        let down = mm(levers.below + plan.nose_above_beam) - mm(picked.beam_tube.height) / 2.0;
        let carriage = mm(picked.axes.y.carriage.assembly_height);
        let rail = mm(machine.geometry.span) / 2.0;
        let beam = mm(levers.ahead);
        let upright = upright(paper).map(|post| mm(post.length));
        let legs = legs(paper).map(|leg| mm(leg.length)).fold(0.0, f64::max);
        let (post, base, floor, side_top) = match plan.layout {
            Layout::MovingTable => {
                // The portal's feet stand on the floor beside the base.
                let lowest = -mm(picked.plate.thickness) - carriage - tube;
                let floor = upright.map_or(lowest, |post| lowest.min(under - post));
                (mm(levers.span) / 2.0, 0.0, floor, floor + tube)
            }
            Layout::MovingGantry => {
                let side_top = under - upright.unwrap_or(0.0) - carriage;
                let floor = (side_top - tube - legs).min(0.0);
                (rail, beam, floor, side_top)
            }
        };
        Self {
            paper,
            side: side_middle(paper, rail),
            rail,
            post,
            beam,
            base,
            floor,
            side_top,
            legs,
            under,
            nose: under + mm(plan.nose_above_beam) - down / 2.0,
            down,
        }
    }

    pub(super) fn members(&self, role: Role) -> impl Iterator<Item = &'a MemberCut> {
        members(self.paper, role)
    }

    /// The pieces of a role with the marks of the cut list.
    pub(super) fn marked(&self, role: Role) -> Vec<String> {
        let each = self.members(role).map(|member| {
            let long = show::number(mm(member.length), 0);
            format!(
                "{} {}: {} of {long} mm",
                member.mark, member.title, member.pieces
            )
        });
        each.collect()
    }

    fn plate(&self, rides: Rides) -> Option<&'a PlateCut> {
        let plates = self.paper.assessment.machine.geometry.plates.iter();
        plates
            .filter(|plate| plate.rides == rides && plate.pieces > 0)
            .max_by(|a, b| mm(a.length).total_cmp(&mm(b.length)))
    }

    fn beam_length(&self) -> f64 {
        let beam = self.members(Role::Beam).next();
        let rail = self.paper.assessment.machine.geometry.rails.x.length;
        mm(beam.map_or(rail, |beam| beam.length))
    }

    /// Seen from above, what lies lower first.
    pub(super) fn plan(&self) -> Vec<Block> {
        let (picked, area) = (self.paper.picked, &self.paper.build.area);
        let levers = &self.paper.assessment.machine.stiffness.levers;
        let tube = mm(picked.base_tube.width);
        let rail = mm(self.paper.assessment.machine.geometry.rails.y.length);
        let side = self.members(Role::Side).next();
        let long = side.map_or(rail, |side| mm(side.length));
        let mut blocks = Vec::new();
        for cross in self.members(Role::Cross) {
            let count = cross.pieces.min(MOST);
            for place in 0..count {
                let share = match count {
                    1 => 0.5,
                    count => f64::from(place) / f64::from(count - 1),
                };
                let y = self.base + (share - 0.5) * (long - tube);
                blocks.push(middle(What::Base, (0.0, y), mm(cross.length), tube));
            }
        }
        for x in [-self.side, self.side] {
            blocks.push(middle(What::Base, (x, self.base), tube, long));
        }
        let moving_table = picked.frame.layout == Layout::MovingTable;
        if let Some(table) = self.plate(Rides::Y).filter(|_| moving_table) {
            let (wide, long) = (mm(table.width), mm(table.length));
            blocks.push(middle(What::Table, (0.0, 0.0), wide, long));
        } else {
            let (x, y) = (mm(area.travel.x), mm(area.travel.y));
            blocks.push(middle(What::Table, (0.0, 0.0), x, y));
        }
        let beam = (self.beam_length(), mm(picked.beam_tube.width));
        blocks.push(middle(What::Beam, (0.0, self.beam), beam.0, beam.1));
        let thick = mm(picked.plate.thickness);
        let behind = mm(levers.ahead_of_x) - mm(picked.axes.x.carriage.assembly_height) / 2.0;
        for (rides, y) in [
            (Rides::X, behind - thick / 2.0),
            (Rides::Z, mm(levers.ahead_of_plate)),
        ] {
            if let Some(plate) = self.plate(rides) {
                blocks.push(middle(What::Plate, (0.0, y), mm(plate.width), thick));
            }
        }
        let body = mm(picked.spindle.body);
        blocks.push(middle(What::Spindle, (0.0, 0.0), body, body));
        blocks
    }

    /// Seen from before it, what stands farther behind first.
    pub(super) fn front(&self) -> Vec<Block> {
        let picked = self.paper.picked;
        let (tube, deep) = (mm(picked.base_tube.width), mm(picked.base_tube.height));
        let beam = mm(picked.beam_tube.height);
        let mut blocks = Vec::new();
        let half = self.beam_length() / 2.0;
        let upright = upright(self.paper);
        if let Some(post) = upright {
            let low = self.under - mm(post.length);
            for x in [-self.post, self.post] {
                blocks.push(edges(
                    What::Post,
                    x - tube / 2.0,
                    low,
                    x + tube / 2.0,
                    self.under,
                ));
            }
        }
        blocks.push(edges(
            What::Beam,
            -half,
            self.under,
            half,
            self.under + beam,
        ));
        for cross in self.members(Role::Cross).take(1) {
            let (half, low) = (mm(cross.length) / 2.0, self.cross_low(deep));
            blocks.push(edges(What::Base, -half, low, half, low + deep));
            blocks.push(self.table(low + deep));
        }
        let side_low = self.side_top - deep;
        for x in [-self.side, self.side] {
            let (left, right) = (x - tube / 2.0, x + tube / 2.0);
            if self.legs > 0.0 {
                let low = side_low - self.legs;
                blocks.push(edges(What::Post, left, low, right, side_low));
            }
            blocks.push(edges(What::Base, left, side_low, right, self.side_top));
        }
        self.head(&mut blocks);
        blocks
    }

    /// Cross members lie on the floor between legs, else as high as the sides.
    fn cross_low(&self, deep: f64) -> f64 {
        if legs(self.paper).next().is_some() {
            self.floor
        } else {
            self.side_top - deep
        }
    }

    /// The table and what carries it, from the base up.
    fn table(&self, base: f64) -> Block {
        let moving = self.plate(Rides::Y);
        let moving = moving.filter(|_| self.paper.picked.frame.layout == Layout::MovingTable);
        let wide = moving.map_or(self.paper.build.area.travel.x, |table| table.width);
        edges(
            What::Table,
            -mm(wide) / 2.0,
            base.min(0.0),
            mm(wide) / 2.0,
            0.0,
        )
    }

    /// What hangs on the beam.
    fn head(&self, blocks: &mut Vec<Block>) {
        let picked = self.paper.picked;
        let axis = self.under + mm(picked.beam_tube.height) / 2.0;
        if let Some(plate) = self.plate(Rides::X) {
            let (wide, high) = (mm(plate.width), mm(plate.length));
            blocks.push(middle(What::Plate, (0.0, axis), wide, high));
        }
        let lower = self.nose + mm(picked.frame.nose_below_plate);
        if let Some(plate) = self.plate(Rides::Z) {
            let half = mm(plate.width) / 2.0;
            let upper = lower + mm(plate.length);
            blocks.push(edges(What::Plate, -half, lower, half, upper));
        }
        let half = mm(picked.spindle.body) / 2.0;
        let upper = lower + mm(picked.clamp.grip);
        blocks.push(edges(What::Spindle, -half, self.nose, half, upper));
        let half = mm(picked.tool.diameter) / 2.0;
        let tip = self.nose - mm(picked.tool.reach);
        blocks.push(edges(What::Tool, -half, tip, half, self.nose));
    }

    /// The travel of the tool along an axis.
    pub(super) fn travel(&self, axis: Axis) -> f64 {
        mm(self.paper.build.area.travel[axis])
    }
}

fn members<'a>(paper: &Paper<'a>, role: Role) -> impl Iterator<Item = &'a MemberCut> + use<'a> {
    let members = paper.assessment.machine.geometry.members.iter();
    members.filter(move |member| member.role == role && member.pieces > 0)
}

/// From the middle to a side's: the sides are as far apart as the cross members between them reach,
/// else as the Y rails.
fn side_middle(paper: &Paper, rail: f64) -> f64 {
    let picked = paper.picked;
    let cross = members(paper, Role::Cross).next();
    let between = cross.and_then(|cross| {
        let mut plan = picked.frame.member.iter();
        let found = plan.find(|member| member.mark == cross.mark);
        found.map(|member| (cross, member.between_sides))
    });
    match between {
        Some((cross, widths)) => {
            (mm(cross.length) + mm(picked.base_tube.width) * f64::from(widths)) / 2.0
        }
        None => rail,
    }
}

/// The posts below the beam.
fn upright<'a>(paper: &Paper<'a>) -> Option<&'a MemberCut> {
    let carries = match paper.picked.frame.layout {
        Layout::MovingGantry => Rides::Y,
        Layout::MovingTable => Rides::Still,
    };
    members(paper, Role::Upright).find(|post| post.rides == carries)
}

/// The posts below the sides of a gantry machine.
fn legs<'a>(paper: &Paper<'a>) -> impl Iterator<Item = &'a MemberCut> + use<'a> {
    let gantry = paper.picked.frame.layout == Layout::MovingGantry;
    members(paper, Role::Upright).filter(move |post| gantry && post.rides == Rides::Still)
}

fn edges(what: What, left: f64, low: f64, right: f64, high: f64) -> Block {
    Block {
        what,
        left,
        low,
        right,
        high,
    }
}

/// A piece around its middle.
pub(super) fn middle(what: What, (x, y): (f64, f64), wide: f64, high: f64) -> Block {
    edges(
        what,
        x - wide / 2.0,
        y - high / 2.0,
        x + wide / 2.0,
        y + high / 2.0,
    )
}
