//! Letters that are not seen, but steer or reorder what stands beside them.

/// Control characters (C0, DEL, C1), separators of lines and paragraphs, marks that turn the
/// writing direction or take no room, and tags (Unicode general categories Cc, Zl, Zp, and
/// of Cf what has no visible form).
pub fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}
