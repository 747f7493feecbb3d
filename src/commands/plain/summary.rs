//! What a build comes to, in five sentences: cost, cuts, socket, worst warning, what next.

use super::page::Page;
use super::talk::Talk;
use crate::explore::told;
use crate::machine::cutting::Verdict;
use crate::money::show as amounts;
use crate::rules::topics::Topic;
use crate::rules::{self, Finding, Severity};
use crate::screen::text::capital;
use crate::units::{self, show};
use crate::words::Words as _;

impl Talk {
    /// The five sentences.
    pub(super) fn summary(&self) -> Page {
        let mut page = Page::default();
        let title = match self.build().title.trim() {
            "" => "Machine without a name".to_owned(),
            _ => self.build().heading(),
        };
        page.heading(&title);
        page.text(self.cost());
        page.text(self.cuts());
        page.text(self.circuits());
        let (worst, next) = self.worst();
        page.text(worst);
        page.text(next);
        page
    }

    fn cost(&self) -> String {
        let bill = &self.now.bill;
        let never = bill.never_order();
        let invented = never.map_or_else(String::new, |never| format!(" {never}."));
        format!(
            "Cost: about {}, freight, duty and tax included; from {}.{invented}",
            amounts::money(bill.total.likely, bill.currency),
            amounts::range(bill.total)
        )
    }

    fn cuts(&self) -> String {
        let cutting = &self.now.machine.cutting;
        let wished = &self.build().area.materials;
        let mut said = Vec::new();
        for verdict in Verdict::ALL.iter().rev() {
            let alike = wished.iter().filter(|id| cutting.verdict(id) == *verdict);
            let names: Vec<String> = alike.map(|id| self.material(id.as_str())).collect();
            if !names.is_empty() {
                let how = match verdict {
                    Verdict::No => "not at all",
                    other => other.title(),
                };
                said.push(format!("{how}: {}", names.join(", ")));
            }
        }
        if said.is_empty() {
            return "Cuts: you named no material yet.".to_owned();
        }
        let most = cutting.wished().map_or(String::new(), |cut| {
            let removal = show::number(units::cm3_per_min::from(cut.removal), 1);
            let name = self.material(cut.material.as_str());
            format!(" Most of {name} that it removes: {removal} cm³/min.")
        });
        format!("Cuts {}.{most}", said.join("; "))
    }

    fn material(&self, id: &str) -> String {
        let part = self.catalogue.part(id);
        part.map_or_else(|| id.to_owned(), |(_, part)| part.title().to_owned())
    }

    fn circuits(&self) -> String {
        format!("Circuits: {}", told::circuits(&self.now))
    }

    /// The worst warning, and what to do next.
    fn worst(&self) -> (String, String) {
        let all = &self.now.findings;
        let open = |topic: &&Topic| {
            let first = all.get(topic.first());
            !topic.follows && first.is_some_and(Finding::counts)
        };
        let topics = self.about.topics().iter();
        let worst = topics.clone().find(open);
        let Some((topic, first)) = worst.and_then(|topic| Some((topic, all.get(topic.first())?)))
        else {
            return (
                "Warnings: none.".to_owned(),
                "Next: bill says what to buy, save keeps it.".to_owned(),
            );
        };
        let title = topic.title(all);
        let severity = first.severity;
        let says = format!(
            "Warnings: {}. The worst is a {}: {title}.",
            rules::tally(all),
            severity.title()
        );
        let next = match severity {
            Severity::Danger | Severity::Fault => {
                "Next: type warnings, then 1, to hear why and what lifts it."
            }
            Severity::Caution | Severity::Hint => {
                "Next: walk the steps, or type warnings to hear what could be better."
            }
        };
        (capital(&says), next.to_owned())
    }
}
