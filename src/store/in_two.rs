//! Work that a second thread shares: what somebody waits for, and falls into many pieces.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What becomes of each piece, in their order. This thread and one beside it take the next piece as
/// soon as they are done with one, so that neither waits long for the other, whenever the second one
/// gets to run; where the system gives none, this one takes all.
pub fn in_two<T: Sync, R: Send>(pieces: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let taken = AtomicUsize::new(0);
    let take = || {
        // From the last one on: among the files of the catalogue the longest stand there, and with
        // those at the end one thread would still read when the other is done.
        let next = || {
            pieces
                .len()
                .checked_sub(1 + taken.fetch_add(1, Ordering::Relaxed))
        };
        let places = std::iter::from_fn(next);
        let done = places.map(|place| (place, work(&pieces[place])));
        done.collect::<Vec<_>>()
    };
    let (own, others) = thread::scope(|scope| {
        let beside = thread::Builder::new().spawn_scoped(scope, take);
        let own = take();
        let others =
            beside.map(|beside| beside.join().unwrap_or_else(|fault| resume_unwind(fault)));
        (own, others.unwrap_or_default())
    });
    let mut done = Vec::new();
    done.resize_with(pieces.len(), || None);
    for (place, result) in own.into_iter().chain(others) {
        done[place] = Some(result);
    }
    done.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;
    use std::sync::atomic::AtomicBool;
    use std::thread::ThreadId;

    use super::*;

    #[test]
    fn what_becomes_of_pieces_comes_back_in_their_order() {
        for count in 0..50 {
            let all: Vec<u32> = (0..count).collect();
            let doubled = in_two(&all, |one| one * 2);
            assert!(doubled.into_iter().eq((0..count).map(|one| one * 2)));
        }
    }

    /// One piece takes as long as all others together: they are not divided by their number.
    #[test]
    fn while_one_thread_is_at_a_long_piece_the_other_does_the_rest() {
        let who: Mutex<Vec<(u32, ThreadId)>> = Mutex::default();
        let rest_is_done = AtomicBool::new(false);
        in_two(&(0..20).collect::<Vec<u32>>(), |piece| {
            let done = || who.lock().expect("a list").len() == 19;
            while *piece == 19 && !done() {
                thread::yield_now();
            }
            rest_is_done.fetch_or(done(), Ordering::Relaxed);
            who.lock()
                .expect("a list")
                .push((*piece, thread::current().id()));
        });
        assert!(rest_is_done.into_inner());
        let who = who.into_inner().expect("a list");
        let long = who.iter().find(|(piece, _)| *piece == 19).expect("done");
        assert_eq!(
            who.iter().filter(|(_, thread)| *thread == long.1).count(),
            1
        );
    }
}
