//! The five steps in which a machine is decided, in their order: choices, rules and lines of the
//! bill all belong to one of them.

crate::words! {
    /// The five steps in which a machine is decided.
    Step {
        WorkingArea = "working-area", "Working area", "How large, out of what, for what, and where it stands.";
        Drive = "drive", "Drive", "Rails, screws, motors and their drivers: how fast and how exactly it moves.";
        Spindle = "spindle", "Spindle", "What turns the tool, and what feeds and cools it.";
        Control = "control", "Control", "What commands it, what protects it, and the wall socket.";
        Extras = "extras", "Extras", "Dust, table, tools, safety: what else the first cut needs.";
    }
}
