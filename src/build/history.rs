//! Undo and redo without end: the builds that were, and those that were taken back.

use super::Build;

/// A build with its past and its future.
#[derive(Clone, Debug)]
pub struct History {
    now: Build,
    past: Vec<Build>,
    future: Vec<Build>,
}

impl History {
    /// Starts with a build that has no past.
    pub fn new(build: Build) -> Self {
        Self {
            now: build,
            past: Vec::new(),
            future: Vec::new(),
        }
    }

    /// The build as it stands.
    pub fn now(&self) -> &Build {
        &self.now
    }

    /// The builds that undo and redo would bring back.
    pub fn others(&self) -> impl Iterator<Item = &Build> {
        self.past.iter().chain(&self.future)
    }

    /// Puts a changed build in place; what was taken back before is gone. A build that
    /// equals the present one changes nothing.
    pub fn put(&mut self, build: Build) {
        if build != self.now {
            self.past.push(std::mem::replace(&mut self.now, build));
            self.future.clear();
        }
    }

    /// Whether there is a change to take back.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is a change to make again.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// Takes the last change back; false where there is none.
    pub fn undo(&mut self) -> bool {
        let Some(build) = self.past.pop() else {
            return false;
        };
        self.future.push(std::mem::replace(&mut self.now, build));
        true
    }

    /// Makes the change again that was taken back last; false where there is none.
    pub fn redo(&mut self) -> bool {
        let Some(build) = self.future.pop() else {
            return false;
        };
        self.past.push(std::mem::replace(&mut self.now, build));
        true
    }
}
