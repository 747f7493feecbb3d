//! Work that a second thread shares: what somebody waits for, and falls into two halves.

use std::thread;

/// What becomes of two halves, the first before the second; the second is worked off in a thread
/// beside this one, or after the first where the system gives none.
pub fn in_two<T: Sync, R: Send>(
    (first, second): (&[T], &[T]),
    work: impl Fn(&[T]) -> Vec<R> + Sync,
) -> Vec<R> {
    thread::scope(|scope| {
        let beside = thread::Builder::new().spawn_scoped(scope, || work(second));
        let mut done = work(first);
        done.extend(match beside.map(thread::ScopedJoinHandle::join) {
            Ok(Ok(others)) => others,
            _ => work(second),
        });
        done
    })
}

#[cfg(test)]
mod tests {
    use super::in_two;

    #[test]
    fn halves_come_back_in_their_order() {
        let all: Vec<u32> = (0..9).collect();
        for middle in 0..=all.len() {
            let doubled = in_two(all.split_at(middle), |half| {
                half.iter().map(|one| one * 2).collect()
            });
            assert_eq!(doubled, [0, 2, 4, 6, 8, 10, 12, 14, 16]);
        }
    }
}
