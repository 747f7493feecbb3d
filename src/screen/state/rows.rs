//! The rows of the side pane that the cursor walks, and the figure behind each.

use super::{Focus, Layer, State};
use crate::build::Axis;
use crate::build::choices::control::OnCircuit;
use crate::order::Order as _;
use crate::words::Words;

/// A row of the side pane that the cursor can stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaneRow {
    /// What everything costs.
    Cost,
    /// The rapids of an axis.
    Axis(Axis),
    /// How far the tool gives along an axis.
    Stiffness(Axis),
    /// The hardest material that is to be cut.
    Cuts,
    /// The time of the named job.
    Job,
    /// A mains circuit.
    Circuit(OnCircuit),
    /// The motors' supply.
    Supply,
    /// An entry of warnings, by the place of its head among the topics.
    Finding(usize),
}

impl State {
    /// The rows of the side pane that the cursor walks, from the top; where a strip stands
    /// in for the pane, the warnings alone. Accepted ones come last.
    pub fn pane_rows(&self) -> Vec<PaneRow> {
        let mut rows = Vec::new();
        let layout = self.layout();
        if let Some(layout) = layout.filter(|layout| layout.pane.is_some()) {
            rows.push(PaneRow::Cost);
            rows.extend(Axis::EACH.map(PaneRow::Axis));
            if layout.says_all() {
                rows.extend(Axis::EACH.map(PaneRow::Stiffness));
            }
            if layout.says_cuts() && self.wishes_material() {
                rows.push(PaneRow::Cuts);
            }
            if layout.says_all() && self.now.machine.job.is_some() {
                rows.push(PaneRow::Job);
            }
            let circuits = self.now.machine.electrics.circuits.iter();
            rows.extend(circuits.map(|circuit| PaneRow::Circuit(circuit.which)));
            rows.push(PaneRow::Supply);
        }
        rows.extend(self.entries_listed().into_iter().map(PaneRow::Finding));
        rows
    }

    /// The rows that have a page of their own, whether the pane has room for them or not.
    pub fn figure_pages(&self) -> Vec<PaneRow> {
        let mut pages: Vec<PaneRow> = Axis::EACH.map(PaneRow::Axis).to_vec();
        pages.extend(Axis::EACH.map(PaneRow::Stiffness));
        pages.push(PaneRow::Cuts);
        if self.now.machine.job.is_some() {
            pages.push(PaneRow::Job);
        }
        let circuits = self.now.machine.electrics.circuits.iter();
        pages.extend(circuits.map(|circuit| PaneRow::Circuit(circuit.which)));
        pages
    }

    /// The entries as the side pane lists them, by the places of their heads among
    /// the topics: worst first, accepted last.
    pub fn entries_listed(&self) -> Vec<usize> {
        let topics = self.about.topics();
        let mut places: Vec<usize> = (0..topics.len())
            .filter(|place| !topics[*place].follows)
            .collect();
        let accepted = |place: &usize| {
            let head = self.now.findings.get(topics[*place].first());
            head.is_some_and(|head| !head.counts())
        };
        places.order_by_key(accepted);
        places
    }

    /// The number of the entry that the topic at a place belongs to, and how many there are.
    pub fn entry_number(&self, place: usize) -> (usize, usize) {
        let heads = |upto: usize| {
            let topics = self.about.topics().iter().take(upto);
            topics.filter(|topic| !topic.follows).count()
        };
        (heads(place + 1), heads(usize::MAX))
    }

    /// What follows from the topic at a place, by places among the topics.
    pub fn followers(&self, head: usize) -> impl Iterator<Item = usize> + '_ {
        let topics = self.about.topics();
        (head + 1..topics.len()).take_while(|place| topics[*place].follows)
    }

    /// Whether anything is to be cut.
    pub fn wishes_material(&self) -> bool {
        !self.build().area.materials.is_empty()
    }

    /// The row under the pane's cursor, while keys go there.
    pub fn pane_row(&self) -> Option<PaneRow> {
        let active = self.focus == Focus::Pane && self.layers.is_empty();
        active
            .then(|| self.pane_rows().get(self.pane_cursor).copied())
            .flatten()
    }

    /// The path of the figure that the pane, the page of one figure or the bill points at.
    pub fn figure_pointed(&self) -> Option<String> {
        let row = match self.layers.last() {
            Some(Layer::Figure(row, _)) => *row,
            Some(Layer::Bill) => return self.ledger.current()?.figure(&self.now),
            Some(Layer::Entry(entry, _)) => return entry.figure(&self.now),
            _ => self.pane_row()?,
        };
        Some(match row {
            PaneRow::Cost => "cost.likely".to_owned(),
            PaneRow::Axis(axis) => format!("axes.{}.rapid_m_per_min", axis.id()),
            PaneRow::Stiffness(axis) => format!("stiffness.collet_n_per_um.{}", axis.id()),
            PaneRow::Cuts => {
                let cut = self.now.machine.cutting.wished()?;
                let (material, tool) = (&cut.material, &cut.tool);
                let engagement = cut.engagement.id();
                format!("cutting.{material}.{tool}.{engagement}.removal_cm3_per_min")
            }
            PaneRow::Job => "job.total_min".to_owned(),
            PaneRow::Circuit(which) => format!("power.circuits.{}.current_a", which.id()),
            PaneRow::Supply => "power.supplies.motors.needed_a".to_owned(),
            PaneRow::Finding(_) => return None,
        })
    }
}
