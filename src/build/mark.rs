//! A short mark of texts, by which it is told that they changed.

/// A short mark of some texts: the same for the same texts on every machine, and another one
/// as good as always where something in them changed. FNV-1a of 64 bits, each text behind its
/// length, so that a sentence that moves from one file to the next is noticed. It tells changes,
/// it does not protect against anybody.
pub fn mark<'t>(texts: impl IntoIterator<Item = &'t str>) -> String {
    const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0100_0000_01b3;
    let mut hash = OFFSET;
    let mut take = |bytes: &[u8]| {
        for byte in bytes {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(PRIME);
        }
    };
    for text in texts {
        take(&(text.len() as u64).to_le_bytes());
        take(text.as_bytes());
    }
    format!("{hash:016x}")
}

#[cfg(test)]
mod tests {
    use super::mark;

    #[test]
    fn a_mark_follows_every_text_and_where_it_ends() {
        // FNV-1a of no bytes at all is its published offset basis.
        assert_eq!(mark([]), "cbf29ce484222325");
        assert_eq!(mark(["a", "b"]), mark(["a", "b"]));
        assert_ne!(mark(["a", "b"]), mark(["ab", ""]));
        assert_ne!(mark(["a", "b"]), mark(["b", "a"]));
    }
}
