//! What both sorts of picture show of a machine, on paper and in a terminal: its pieces, how
//! far all of it reaches, where the tool comes, and the floor that it takes in the room. Each
//! is worked out once, here, so that a picture on the screen never disagrees with a printed one.

use super::stand::{Block, Stand, What, middle};
use crate::assessment::Assessment;
use crate::build::{Axis, Build};
use crate::catalogue::frame::Role;
use crate::rules::ACCESS_MM;
use crate::sheets::Paper;
use crate::units;

/// A machine seen from one side, in mm.
#[derive(Clone, Debug)]
pub struct Seen {
    /// Its pieces; what lies lower or farther behind first.
    pub blocks: Vec<Block>,
    /// The rails of Y, as pieces without width; only from above.
    pub rails: Vec<Block>,
    /// The outer size, with motors.
    pub outer: Block,
    /// Where the tool comes.
    pub area: Block,
}

impl Seen {
    /// From above: where the tool's axis comes.
    pub fn plan(paper: &Paper, stand: &Stand) -> Self {
        let geometry = &paper.assessment.machine.geometry;
        let floor = geometry.footprint;
        let rail = units::mm::from(geometry.rails.y.length);
        let rails = [-stand.rail, stand.rail];
        let (x, y) = (stand.travel(Axis::X), stand.travel(Axis::Y));
        Self {
            blocks: stand.plan(),
            rails: rails
                .map(|x| middle(What::Base, (x, stand.base), 0.0, rail))
                .to_vec(),
            outer: middle(
                What::Base,
                (0.0, stand.base),
                units::mm::from(floor.x),
                units::mm::from(floor.y),
            ),
            area: middle(What::Table, (0.0, 0.0), x, y),
        }
    }

    /// From before it: where the tip of the usual tool comes.
    pub fn front(paper: &Paper, stand: &Stand) -> Self {
        let floor = paper.assessment.machine.geometry.footprint;
        let (wide, high) = (units::mm::from(floor.x), units::mm::from(floor.z));
        let tip = units::mm::from(paper.picked.tool.reach);
        let x = stand.travel(Axis::X);
        Self {
            blocks: stand.front(),
            rails: Vec::new(),
            outer: middle(What::Base, (0.0, stand.floor + high / 2.0), wide, high),
            area: middle(What::Table, (0.0, stand.nose - tip), x, stand.down),
        }
    }

    /// The least rectangle that holds all of it.
    pub fn bounds(&self) -> Block {
        let all = self.blocks.iter().chain([&self.outer, &self.area]);
        all.fold(self.outer, |held, block| held.with(block))
    }
}

/// Both views of a machine, the floor below it, and its pieces by name.
#[derive(Clone, Debug)]
pub struct Scene {
    /// From above.
    pub plan: Seen,
    /// From before it.
    pub front: Seen,
    /// The floor that it takes.
    pub floor: Floor,
    /// Its members with the marks of the cut list, and what each is for its fill.
    pub members: Vec<(What, String)>,
    /// Free height under the beam, in mm.
    pub under: f64,
    /// From the tool's axis back to the middle of the beam, in mm.
    pub beam: f64,
    /// From one Y rail to the other, in mm.
    pub span: f64,
    /// Wished travel of X, Y and Z, in mm.
    pub travel: [f64; 3],
    /// Cutting diameter of the usual tool, in mm.
    pub cutter: f64,
    /// How far that tool stands out, in mm.
    pub reach: f64,
}

impl Scene {
    /// All that there is to see of a build.
    pub fn of(paper: &Paper) -> Self {
        let stand = Stand::of(paper);
        let marked = |role: Role, what: What| {
            let members = stand.marked(role).into_iter();
            members.map(move |text| (what, text))
        };
        let members = marked(Role::Beam, What::Beam)
            .chain(marked(Role::Side, What::Base))
            .chain(marked(Role::Cross, What::Base))
            .chain(marked(Role::Upright, What::Post));
        Self {
            plan: Seen::plan(paper, &stand),
            front: Seen::front(paper, &stand),
            floor: Floor::of(paper.build, paper.assessment),
            members: members.collect(),
            under: stand.under,
            beam: stand.beam,
            span: 2.0 * stand.rail,
            travel: Axis::EACH.map(|axis| stand.travel(axis)),
            cutter: units::mm::from(paper.picked.tool.diameter),
            reach: units::mm::from(paper.picked.tool.reach),
        }
    }
}

/// The floor that a machine takes in its room, in mm.
#[derive(Clone, Copy, Debug)]
pub struct Floor {
    /// Along X, with motors.
    pub wide: f64,
    /// Along Y, with motors.
    pub deep: f64,
    /// The room along X.
    pub room_x: f64,
    /// The room along Y.
    pub room_y: f64,
    /// What a person needs to stand beside it.
    pub access: f64,
}

impl Floor {
    /// The floor of a build.
    pub fn of(build: &Build, assessment: &Assessment) -> Self {
        let floor = assessment.machine.geometry.footprint;
        Self {
            wide: units::mm::from(floor.x),
            deep: units::mm::from(floor.y),
            room_x: units::mm::from(build.area.room_x),
            room_y: units::mm::from(build.area.room_y),
            access: ACCESS_MM,
        }
    }

    /// Along X and Y: machine and a person beside it.
    pub fn needed(&self) -> (f64, f64) {
        (self.wide + self.access, self.deep + self.access)
    }

    /// What a drawing must hold: the room, and what stands out of it where it is too small.
    pub fn all(&self) -> (f64, f64) {
        let (x, y) = self.needed();
        (self.room_x.max(x), self.room_y.max(y))
    }

    /// Whether machine and person fit into the room.
    pub fn fits(&self) -> bool {
        let (x, y) = self.needed();
        x <= self.room_x && y <= self.room_y
    }
}
