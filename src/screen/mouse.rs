//! The mouse as the screen knows it, apart from how any terminal library tells it. It is never
//! needed: whatever it does, keys do.

/// What the hand did, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mouse {
    /// What it did.
    pub gesture: Gesture,
    /// Column of the pointer, from 0.
    pub column: u16,
    /// Row of the pointer, from 0.
    pub row: u16,
}

/// What can be done with a mouse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gesture {
    /// The wheel was turned away from the hand.
    WheelUp,
    /// The wheel was turned towards the hand.
    WheelDown,
    /// The left button was pressed.
    Click,
}
