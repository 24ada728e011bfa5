//! Which orders wait for whom.

use book::{ListRequest, Role, Sort, State};

use crate::viewer::Viewer;

/// Orders that wait for the same people.
#[derive(Debug, Clone, Copy)]
pub(super) struct Group {
    /// Its heading.
    pub words: &'static str,
    /// What is to be done with them.
    pub meaning: &'static str,
    states: &'static [State],
    at_most: usize,
}

const TO_DECIDE: Group = Group {
    words: "To decide",
    meaning: "Approve what may be cut, ask about the rest.",
    states: &[State::Received, State::Questioned, State::Remade],
    at_most: 60,
};
const ON_THE_FLOOR: Group = Group {
    words: "On the floor",
    meaning: "Make them, measure them, send them.",
    states: &[State::Approved, State::InWork, State::Inspected],
    at_most: 30,
};
const DONE: Group = Group {
    words: "Lately done",
    meaning: "Shipped or closed.",
    states: &[State::Shipped, State::Closed],
    at_most: 10,
};

/// The groups, what waits for this viewer first.
pub(super) fn groups(viewer: &Viewer) -> [Group; 3] {
    if viewer.is_one_of(&[Role::Floor]) { [ON_THE_FLOOR, TO_DECIDE, DONE] } else { [TO_DECIDE, ON_THE_FLOOR, DONE] }
}

impl Group {
    /// What the book is asked for.
    pub fn request(&self) -> ListRequest {
        ListRequest {
            states: self.states.to_vec(),
            sort: Sort::LastChanged,
            at_most: self.at_most,
            ..ListRequest::default()
        }
    }

    /// The address of the list with all of them.
    pub fn address(&self) -> String {
        let keys: Vec<&str> = self.states.iter().map(|state| state.key()).collect();
        format!("/?state={}&sort=changed", keys.join(","))
    }
}
