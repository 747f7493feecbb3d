//! How quantities are written for people.
