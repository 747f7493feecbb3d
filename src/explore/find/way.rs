//! The way to where a walk stands, and why it turns back.

use super::Because;
use super::floor::Partial;
use super::spares::{Spare, Spares};
use crate::bill::floor::Coins;

/// Why nothing is to be looked for behind some options.
pub(super) struct Exit {
    pub(super) because: Because,
    /// The choices that are to blame, a bit for each.
    pub(super) blame: u128,
    /// Where it is because of the cost: what the option, and all that comes after it, adds at
    /// least.
    pub(super) spare: Option<Coins>,
}

/// The way to where the walk stands.
pub(super) struct Way<'w, 'a, 'c> {
    pub(super) partial: Partial<'w, 'a, 'c>,
    /// The choice that is to be made next.
    pub(super) turn: usize,
    /// Its option and those of all before it.
    pub(super) options: Vec<usize>,
    /// How many options of each were tried.
    pub(super) places: Vec<usize>,
    /// Which earlier choices are to blame that those tried do not help, a bit for each.
    pub(super) blame: Vec<u128>,
    /// What those tried that are too dear add at least, with all that comes after them; none
    /// where none is.
    pub(super) spare: Vec<Option<Coins>>,
    /// What was added before each choice.
    pub(super) added: Vec<Coins>,
    /// The choices that raised the floor when they were made.
    pub(super) raised: u128,
    /// With so many choices made, what is known to be added from each turn on.
    pub(super) known: Vec<Vec<Spare>>,
}

impl<'w, 'a, 'c> Way<'w, 'a, 'c> {
    pub(super) fn new(partial: Partial<'w, 'a, 'c>, turns: usize) -> Self {
        Self {
            partial,
            turn: 0,
            options: vec![0; turns],
            places: vec![0; turns],
            blame: vec![0; turns],
            spare: vec![None; turns],
            added: vec![0; turns],
            raised: 0,
            known: vec![vec![Spare::default(); turns + 1]; turns + 1],
        }
    }

    /// Adds up what is known with the choice whose turn it is made.
    pub(super) fn know(&mut self, spares: &Spares) {
        let made = self.turn + 1;
        let (before, now) = self.known.split_at_mut(made);
        now[0].copy_from_slice(&before[made - 1]);
        spares.add(made, &self.options, &mut now[0]);
    }

    /// The most that is known to be added by what is open, with so many choices made.
    pub(super) fn spare(&self) -> Spare {
        let made = self.turn + 1;
        let open = self.known[made][made..].iter();
        let most = open.max_by_key(|one| one.least).copied();
        most.unwrap_or_default()
    }

    /// Takes note of something that was found out about all from a turn on, on the way itself.
    pub(super) fn learn(&mut self, from: usize, spare: Spare, made: usize) {
        for known in &mut self.known[made..=from.min(self.turn)] {
            if spare.least > known[from].least {
                known[from] = spare;
            }
        }
    }

    /// Makes the choice whose turn it is.
    pub(super) fn make(&mut self, option: usize) {
        let (turn, least) = (self.turn, self.partial.least());
        self.options[turn] = option;
        self.added[turn] = self.partial.added();
        self.partial.make(turn, option);
        self.raised &= !bit(turn);
        if self.partial.least() > least {
            self.raised |= bit(turn);
        }
    }

    /// What the option adds that was made.
    pub(super) fn gained(&self) -> Coins {
        self.partial.added() - self.added[self.turn]
    }

    /// Takes note of why an option does not help.
    pub(super) fn take(&mut self, exit: &Exit) {
        let turn = self.turn;
        self.blame[turn] |= exit.blame & before(turn);
        self.spare[turn] = match (self.spare[turn], exit.spare) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
    }

    /// Forgets what was tried at the turn.
    pub(super) fn clear(&mut self) {
        self.places[self.turn] = 0;
        self.blame[self.turn] = 0;
        self.spare[self.turn] = None;
    }
}

/// The bit of a choice. There are enough of them: a space holds no choice twice, and no more than
/// [`MOST_FREE`](super::MOST_FREE) have options.
pub(super) fn bit(turn: usize) -> u128 {
    1 << turn
}

/// The bits of some choices together.
pub(super) fn bits(turns: impl IntoIterator<Item = usize>) -> u128 {
    turns.into_iter().fold(0, |bits, turn| bits | bit(turn))
}

/// The bits of all choices before a turn.
pub(super) fn before(turn: usize) -> u128 {
    bit(turn) - 1
}
