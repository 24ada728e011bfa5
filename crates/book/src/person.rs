//! Who does something. Every change carries the name of a person.

use crate::error::BookError;
use crate::role::Role;

/// What stands behind the name of a program that holds a token, and behind no account's name.
pub(crate) const PROGRAM: &str = " (program)";

/// Somebody who does something to the book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// The name that is written beside what they do.
    pub name: String,
    /// The role of their account; none for a guest, such as a customer who fills in the guide.
    pub role: Option<Role>,
}

impl Person {
    /// Somebody with an account.
    #[must_use]
    pub fn new(name: &str, role: Role) -> Self {
        Self { name: name.to_owned(), role: Some(role) }
    }

    /// Somebody without an account: may place an order, add to it while nothing is approved, write and send photos.
    #[must_use]
    pub fn guest(name: &str) -> Self {
        Self { name: name.to_owned(), role: None }
    }

    /// The role in words, or `guest`.
    #[must_use]
    pub fn standing_words(&self) -> &'static str {
        self.role.map_or("guest", Role::words)
    }

    /// Whether the person has one of these roles.
    #[must_use]
    pub fn is_one_of(&self, roles: &[Role]) -> bool {
        self.role.is_some_and(|role| roles.contains(&role))
    }

    /// Lets one of these roles through.
    pub(crate) fn must_be(&self, what: &str, roles: &[Role]) -> Result<(), BookError> {
        if self.is_one_of(roles) { Ok(()) } else { Err(BookError::not_allowed(self, what, roles)) }
    }

    /// Lets one of these roles, and a guest, through.
    pub(crate) fn must_be_guest_or(&self, what: &str, roles: &[Role]) -> Result<(), BookError> {
        if self.role.is_none() { Ok(()) } else { self.must_be(what, roles) }
    }
}
