//! Going through a list whose ends meet.

/// The place behind one, or the one before it, in a list of so many, round at the ends; the first
/// where the list is empty.
pub(super) fn around(at: usize, count: usize, on: bool) -> usize {
    let count = count.max(1);
    let steps = if on { 1 } else { count - 1 };
    (at + steps) % count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_of_a_list_meet() {
        assert_eq!([0, 1, 2].map(|at| around(at, 3, true)), [1, 2, 0]);
        assert_eq!([0, 1, 2].map(|at| around(at, 3, false)), [2, 0, 1]);
        assert_eq!([1, 0].map(|count| around(0, count, false)), [0, 0]);
    }
}
