//! The states of an order and the moves between them.

use std::fmt;

use crate::error::BookError;
use crate::role::Role;

/// Where an order stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// It came in.
    Received,
    /// Something was asked of the customer.
    Questioned,
    /// The shafts may be cut.
    Approved,
    /// They are being made.
    InWork,
    /// They are made and measured.
    Inspected,
    /// They are on their way.
    Shipped,
    /// Nothing is left to do.
    Closed,
    /// They have to be made once more.
    Remade,
}

impl State {
    /// Every state, in the order in which an order goes through them.
    pub const ALL: [Self; 8] = [
        Self::Received,
        Self::Questioned,
        Self::Approved,
        Self::InWork,
        Self::Inspected,
        Self::Shipped,
        Self::Closed,
        Self::Remade,
    ];

    /// The states in which a change of the catalog still matters: nothing has left the shop.
    pub const OPEN: [Self; 6] =
        [Self::Received, Self::Questioned, Self::Approved, Self::InWork, Self::Inspected, Self::Remade];

    /// In words: `approved to cut`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Received => "received",
            Self::Questioned => "questioned",
            Self::Approved => "approved to cut",
            Self::InWork => "in work",
            Self::Inspected => "inspected",
            Self::Shipped => "shipped",
            Self::Closed => "closed",
            Self::Remade => "remade",
        }
    }

    /// The key that database, JSON and addresses use: `approved-to-cut`.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Approved => "approved-to-cut",
            Self::InWork => "in-work",
            other => other.words(),
        }
    }

    /// The state that a key or words name.
    ///
    /// ```
    /// use book::State;
    ///
    /// assert_eq!(State::read("in work").unwrap(), State::InWork);
    /// assert_eq!(State::read("in-work").unwrap(), State::InWork);
    /// assert!(State::read("lost").is_err());
    /// ```
    ///
    /// # Errors
    ///
    /// There is no such state.
    pub fn read(word: &str) -> Result<Self, BookError> {
        Self::ALL.into_iter().find(|state| state.key() == word || state.words() == word).ok_or_else(|| {
            let known: Vec<&str> = Self::ALL.iter().map(|state| state.words()).collect();
            BookError::refused(format!("there is no state `{word}`"), known.join(", "))
        })
    }

    /// Where an order may go from here, with what each move asks for.
    ///
    /// ```
    /// use book::{Need, Role, State};
    ///
    /// let approve = State::Received.moves().find(|one| one.to == State::Approved).unwrap();
    /// assert_eq!(approve.needs, Need::Verdict);
    /// assert!(!approve.roles.contains(&Role::Floor));
    /// ```
    pub fn moves(self) -> impl Iterator<Item = &'static Move> {
        MOVES.iter().filter(move |one| one.from == self)
    }
}

impl fmt::Display for State {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.words())
    }
}

/// What a move asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// Nothing.
    Nothing,
    /// A reason.
    Reason,
    /// The verdict `cut`; or `ask`, overruled with a reason. Never `stop`.
    Verdict,
    /// That the verdict still carries the approval: never `stop`, and `ask` only with a reason.
    NoStop,
    /// The same, and that sizes were measured and lie within their limits; or a reason.
    Measured,
}

/// One move that is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Move {
    /// From here.
    pub from: State,
    /// To there.
    pub to: State,
    /// Who may.
    pub roles: &'static [Role],
    /// What it asks for.
    pub needs: Need,
}

const DESK: &[Role] = &[Role::Owner, Role::Desk];
const FLOOR: &[Role] = &[Role::Owner, Role::Desk, Role::Floor];

const fn allow(from: State, to: State, roles: &'static [Role], needs: Need) -> Move {
    Move { from, to, roles, needs }
}

/// Every move that is allowed; what is not here is refused.
pub const MOVES: &[Move] = &[
    allow(State::Received, State::Questioned, DESK, Need::Nothing),
    allow(State::Received, State::Approved, DESK, Need::Verdict),
    allow(State::Received, State::Closed, DESK, Need::Reason),
    allow(State::Questioned, State::Received, DESK, Need::Nothing),
    allow(State::Questioned, State::Approved, DESK, Need::Verdict),
    allow(State::Questioned, State::Closed, DESK, Need::Reason),
    allow(State::Approved, State::InWork, FLOOR, Need::NoStop),
    allow(State::Approved, State::Questioned, FLOOR, Need::Reason),
    allow(State::Approved, State::Closed, DESK, Need::Reason),
    allow(State::InWork, State::Inspected, FLOOR, Need::Measured),
    allow(State::InWork, State::Questioned, FLOOR, Need::Reason),
    allow(State::InWork, State::Remade, FLOOR, Need::Reason),
    allow(State::InWork, State::Closed, DESK, Need::Reason),
    allow(State::Inspected, State::Shipped, DESK, Need::NoStop),
    allow(State::Inspected, State::InWork, FLOOR, Need::Reason),
    allow(State::Inspected, State::Remade, FLOOR, Need::Reason),
    allow(State::Shipped, State::Closed, DESK, Need::Nothing),
    allow(State::Shipped, State::Remade, DESK, Need::Reason),
    allow(State::Closed, State::Remade, DESK, Need::Reason),
    allow(State::Remade, State::Questioned, DESK, Need::Nothing),
    allow(State::Remade, State::Approved, DESK, Need::Verdict),
    allow(State::Remade, State::Closed, DESK, Need::Reason),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{MOVES, Need, State};
    use crate::role::Role;

    #[test]
    fn every_state_can_be_reached_and_left() {
        for state in State::ALL {
            assert!(state == State::Received || MOVES.iter().any(|one| one.to == state), "{state}");
            assert!(state.moves().count() > 0, "{state}");
            assert_eq!(State::read(state.key()).unwrap(), state);
        }
    }

    #[test]
    fn no_move_stands_twice_and_only_approval_leads_to_work() {
        let pairs: BTreeSet<_> = MOVES.iter().map(|one| (one.from, one.to)).collect();
        assert_eq!(pairs.len(), MOVES.len());
        for one in MOVES {
            assert_eq!(one.to == State::Approved, one.needs == Need::Verdict, "{} to {}", one.from, one.to);
            assert!(one.to != State::InWork || matches!(one.from, State::Approved | State::Inspected));
            assert!(!one.roles.contains(&Role::ReadOnly));
        }
    }
}
