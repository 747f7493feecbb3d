//! Putting lists in order with one copy of the code that does it.
//!
//! The library's stable sort is made anew for every call, some eight kilobytes each: a hundred
//! short lists to be ordered were a twelfth of the program. Here places are sorted, by one copy,
//! and the elements then go to theirs.

use std::cmp::Ordering;

/// A list that can be put in order. What comes to the same keeps its order.
pub trait Order<T> {
    /// Puts it in order by a comparison.
    fn order_by(&mut self, compare: impl Fn(&T, &T) -> Ordering);

    /// Puts it in order by a key, which each element is asked for once.
    fn order_by_key<K: Ord>(&mut self, key: impl Fn(&T) -> K);

    /// Puts it in its own order.
    fn order(&mut self)
    where
        T: Ord,
    {
        self.order_by(T::cmp);
    }
}

impl<T> Order<T> for [T] {
    fn order_by(&mut self, compare: impl Fn(&T, &T) -> Ordering) {
        let from = places(self.len(), &|one, other| compare(&self[one], &self[other]));
        take_places(self, from);
    }

    fn order_by_key<K: Ord>(&mut self, key: impl Fn(&T) -> K) {
        let keys: Vec<K> = self.iter().map(key).collect();
        let from = places(keys.len(), &|one, other| keys[one].cmp(&keys[other]));
        take_places(self, from);
    }
}

/// The places of so many elements, in the order of these.
fn places(many: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..many).collect();
    places.sort_by(|one, other| compare(*one, *other));
    places
}

/// Brings to each place the element that stands at another.
fn take_places<T>(items: &mut [T], mut from: Vec<usize>) {
    // Each ring of elements that wait for each other's places is followed once.
    for start in 0..from.len() {
        let mut at = start;
        loop {
            let next = std::mem::replace(&mut from[at], at);
            if next == start {
                break;
            }
            items.swap(at, next);
            at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the library's stable sort.
    #[test]
    fn lists_come_out_as_the_stable_sort_leaves_them() {
        for many in 0..200_usize {
            let list = (0..many).map(|at| (at * at * 7919 % 31 % 9, (at * 613 % 97).to_string()));
            let list: Vec<(usize, String)> = list.collect();
            let (mut ours, mut theirs) = (list.clone(), list);
            ours.order_by_key(|one| one.0);
            theirs.sort_by_key(|one| one.0);
            assert_eq!(ours, theirs);
            ours.order_by(|one, other| other.1.cmp(&one.1));
            theirs.sort_by(|one, other| other.1.cmp(&one.1));
            assert_eq!(ours, theirs);
            ours.order();
            theirs.sort();
            assert_eq!(ours, theirs);
        }
    }
}
