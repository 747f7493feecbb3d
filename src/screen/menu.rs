//! The menu: everything that is not a choice.

use super::action::Action;

/// What the menu offers, in its order.
pub const MENU: &[(&str, Action)] = &[
    // What Esc and then Enter do without looking must change nothing.
    ("Back to the choices", Action::Back),
    ("Save", Action::Save),
    ("Save as another file", Action::SaveAs),
    ("Warnings", Action::Warnings),
    ("Bill: parts and prices", Action::Bill),
    ("Variants: other ways to build it", Action::Variants),
    ("Pictures: the machine to scale, and more", Action::Pictures),
    (
        "Sheets: what is printed and hung on the wall",
        Action::Sheets,
    ),
    ("Spend less: ways to save money", Action::Spend),
    ("What if: questions, what matters most", Action::WhatIf),
    ("Search for the cheapest build", Action::Seek),
    (
        "Interview: plain questions, three builds",
        Action::Interview,
    ),
    ("Safety notes: where the work can hurt", Action::Safety),
    ("Figures: why each is as it is", Action::Figures),
    ("Find: a choice by any word about it", Action::Find),
    ("Words: what they mean", Action::Words),
    ("A part of your own, for this choice", Action::OwnPart),
    (
        "Settings: units, marks in numbers, colours",
        Action::Settings,
    ),
    ("Go on with the file of last time", Action::GoOn),
    ("Undo", Action::Undo),
    ("Redo", Action::Redo),
    ("Help", Action::Help),
    ("Quit", Action::Quit),
];
