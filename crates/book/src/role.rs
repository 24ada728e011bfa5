//! Who may do what.

use std::fmt;

use crate::error::BookError;

/// What an account may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Everything, accounts as well.
    Owner,
    /// Orders from the first word to the shipment.
    Desk,
    /// What happens between approval and inspection.
    Floor,
    /// Looks on.
    ReadOnly,
}

impl Role {
    /// Every role, the mightiest first.
    pub const ALL: [Self; 4] = [Self::Owner, Self::Desk, Self::Floor, Self::ReadOnly];

    /// `owner`, `desk`, `floor` or `read-only`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Owner => "owner",
            Self::Desk => "desk",
            Self::Floor => "floor",
            Self::ReadOnly => "read-only",
        }
    }

    /// The role that a word names.
    ///
    /// ```
    /// use book::Role;
    ///
    /// assert_eq!(Role::read("read-only").unwrap(), Role::ReadOnly);
    /// assert!(Role::read("king").unwrap_err().to_string().contains("accepted: owner, desk, floor or read-only"));
    /// ```
    ///
    /// # Errors
    ///
    /// There is no such role.
    pub fn read(word: &str) -> Result<Self, BookError> {
        Self::ALL
            .into_iter()
            .find(|role| role.words() == word)
            .ok_or_else(|| BookError::refused(format!("there is no role `{word}`"), "owner, desk, floor or read-only"))
    }
}

impl fmt::Display for Role {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.words())
    }
}
