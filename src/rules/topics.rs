//! Findings as people read them: what one rule finds on several axes is said once, and what
//! follows from a cause stands below it. Screen and commands both list findings this way.

use super::Finding;
use crate::words::Words;

/// All findings of one rule in one entry, such as a screw that whips on X and on Y.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Topic {
    /// Their places among the findings; never empty.
    pub places: Vec<usize>,
    /// Whether it follows from the topic that heads its entry. The head stands before it.
    pub follows: bool,
}

impl Topic {
    /// The place of its first finding.
    pub fn first(&self) -> usize {
        self.places.first().copied().unwrap_or_default()
    }

    /// Its findings.
    pub fn of<'a>(&'a self, findings: &'a [Finding]) -> impl Iterator<Item = &'a Finding> {
        self.places.iter().filter_map(|&place| findings.get(place))
    }

    /// It in a few words: the axes, then the title of the rule.
    pub fn title(&self, findings: &[Finding]) -> String {
        let mut axes: Vec<&str> = Vec::new();
        for axis in self.of(findings).filter_map(|finding| finding.axis) {
            if !axes.contains(&axis.title()) {
                axes.push(axis.title());
            }
        }
        let title = findings
            .get(self.first())
            .map_or("", |first| first.rule.title());
        match axes.is_empty() {
            true => title.to_owned(),
            false => format!("{}: {title}", axes.join(", ")),
        }
    }
}

/// The topics of findings in their order, each head before what follows from it. Where the
/// findings are only some of a build's, one whose cause is missing heads an entry itself.
pub fn topics(findings: &[Finding]) -> Vec<Topic> {
    let mut topics: Vec<Topic> = Vec::new();
    // Where the entry began to which the next finding may belong.
    let mut start = 0;
    for (place, finding) in findings.iter().enumerate() {
        let head = topics.get(start).map(|head| &findings[head.first()]);
        let follows =
            head.is_some_and(|head| finding.cause.is_some_and(|cause| head.rule == cause));
        if !follows {
            start = topics.len();
        }
        let alike = |topic: &&mut Topic| {
            let first = &findings[topic.first()];
            (&first.rule, first.severity, first.accepted.is_some())
                == (&finding.rule, finding.severity, finding.accepted.is_some())
        };
        match topics[start..].iter_mut().find(alike) {
            Some(topic) => topic.places.push(place),
            None => topics.push(Topic {
                places: vec![place],
                follows,
            }),
        }
    }
    topics
}

/// The finding at the head of each entry.
pub fn heads(findings: &[Finding]) -> Vec<&Finding> {
    let topics = topics(findings);
    let heads = topics.iter().filter(|topic| !topic.follows);
    heads
        .filter_map(|topic| findings.get(topic.first()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::Axis;
    use crate::catalogue::Step;
    use crate::rules::Severity;

    fn finding(rule: &'static str, axis: Option<Axis>, cause: Option<&'static str>) -> Finding {
        Finding {
            rule: rule.into(),
            severity: Severity::Caution,
            step: Step::Drive,
            axis,
            message: String::new(),
            accepted: None,
            cause,
        }
    }

    #[test]
    fn one_rule_on_several_axes_is_one_topic_and_followers_stand_below() {
        let (x, y) = (Some(Axis::X), Some(Axis::Y));
        let whips = "screw-whirl";
        let found = [
            finding(whips, x, None),
            finding("rapids-below-wish", x, Some(whips)),
            finding(whips, y, Some(whips)),
            finding("rapids-below-wish", y, Some(whips)),
            finding("prices-invented", None, None),
        ];
        let topics = topics(&found);
        let places: Vec<_> = topics.iter().map(|topic| topic.places.clone()).collect();
        assert_eq!(places, [vec![0, 2], vec![1, 3], vec![4]]);
        let follow: Vec<bool> = topics.iter().map(|topic| topic.follows).collect();
        assert_eq!(follow, [false, true, false]);
        assert!(topics[0].title(&found).starts_with("X, Y: "));
        assert!(!topics[2].title(&found).contains(':'));
    }

    #[test]
    fn without_its_cause_a_finding_heads_an_entry() {
        let found = [
            finding("prices-invented", None, None),
            finding("rapids-below-wish", Some(Axis::X), Some("screw-whirl")),
        ];
        assert!(topics(&found).iter().all(|topic| !topic.follows));
    }
}
