//! The pages of the help: first what can be done here, then the keys of this place, then what
//! else there is, so that nobody meets everything at once.

crate::words! {
    /// A page of the help.
    HelpPage {
        Here = "here", "here", "What this place is for, and what is under the cursor.";
        Keys = "keys", "keys here", "Every key that does something in this place.";
        Marks = "marks", "marks and side pane", "What the marks mean, and how to read the side pane.";
        Elsewhere = "elsewhere", "other keys", "The keys of all other places.";
    }
}
