//! Tubes, plates and the frame plans made of them.

use std::collections::HashSet;

use super::Flaws;
use crate::catalogue::Catalogue;
use crate::catalogue::frame::{FramePlan, Layout, PerWhat, Role};
use crate::units;

/// Members that stand closer than this are no frame but a wall.
const CLOSEST_MM: f64 = 10.0;

pub(super) fn structure(catalogue: &Catalogue, found: &mut Flaws) {
    for tube in catalogue.tubes.values() {
        // The outer corner radius is at most 3 T: below 6 T the flat is gone.
        let fits = tube.width >= tube.wall * 6.0 && tube.height >= tube.width;
        let message = "height_mm must not be below width_mm, nor width_mm below six walls";
        found.part(&tube.id, fits, message);
    }
    for angle in catalogue.angles.values() {
        let thin = angle.thickness * 2.0 <= angle.leg;
        let message = "thickness_mm must not be above half of leg_mm";
        found.part(&angle.id, thin, message);
    }
    for filament in catalogue.filaments.values() {
        found.ordered(
            &filament.id,
            ("sustained_celsius", filament.sustained),
            ("glass_transition_celsius", filament.glass_transition),
        );
    }
}

pub(super) fn plans(catalogue: &Catalogue, found: &mut Flaws) {
    for plan in catalogue.frames.values() {
        axes(plan, found);
        pieces(plan, found);
    }
}

fn axes(plan: &FramePlan, found: &mut Flaws) {
    let none = units::mm::of(0.0);
    // A moving gantry's Y rails stand as far apart as its X rails are long, and more.
    let apart = |gap| gap > none;
    let fixed_gap = apart(plan.x.rail_gap) && apart(plan.z.rail_gap);
    let table_gap = plan.layout == Layout::MovingGantry || apart(plan.y.rail_gap);
    let message = "rail_gap_mm of X and Z, and of Y below a moving table, must be above zero";
    found.part(&plan.id, fixed_gap && table_gap, message);
    for (axis, plan_of) in [("x", &plan.x), ("y", &plan.y), ("z", &plan.z)] {
        let message = format!("carriage_span_mm of {axis} must be above zero");
        found.part(&plan.id, plan_of.carriage_span > none, &message);
    }
}

fn pieces(plan: &FramePlan, found: &mut Flaws) {
    let mut marks = HashSet::new();
    let members = plan.member.iter().map(|member| &member.mark);
    let plates = plan.plate.iter().map(|plate| &plate.mark);
    let prints = plan.print.iter().map(|print| &print.mark);
    for mark in members.chain(plates).chain(prints) {
        let message = format!("the mark {mark:?} is there twice");
        found.part(&plan.id, marks.insert(mark), &message);
    }
    for print in &plan.print {
        let screw = matches!(
            print.per,
            PerWhat::ScrewX | PerWhat::ScrewY | PerWhat::ScrewZ
        );
        let whole = print.load_area.is_some() == print.load_depth.is_some();
        let mark = &print.mark;
        let message = format!("print {mark:?} takes load_area_mm2 and load_depth_mm, or neither");
        found.part(&plan.id, whole, &message);
        let message = format!("print {mark:?} bears the thrust of no screw: no load_area_mm2");
        found.part(&plan.id, screw || print.load_area.is_none(), &message);
    }
    for member in &plan.member {
        let mark = &member.mark;
        let both = member.one_more_each.is_some() == member.more_along.is_some();
        let message = format!("member {mark:?} takes one_more_each_mm and more_along, or neither");
        found.part(&plan.id, both, &message);
        let closest = units::mm::of(CLOSEST_MM);
        let wide = member.one_more_each.is_none_or(|each| each >= closest);
        let message = format!("one_more_each_mm of member {mark:?} must not be below {CLOSEST_MM}");
        found.part(&plan.id, wide, &message);
    }
    let of_role = |role| {
        let mut members = plan.member.iter();
        members.any(|member| member.role == role && member.pieces > 0)
    };
    let message = "a frame plan takes a member of role \"beam\"";
    found.part(&plan.id, of_role(Role::Beam), message);
}
