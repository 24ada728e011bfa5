//! Why a page cannot be shown or a form not be taken, in plain words.

use axum::http::StatusCode;
use book::BookError;
use thiserror::Error;

/// Why the desk refuses or fails.
#[derive(Debug, Error)]
pub enum DeskError {
    /// Something that was entered or asked for cannot be used.
    #[error("{problem}\n  accepted: {accepted}")]
    Refused {
        /// What is wrong.
        problem: String,
        /// What would be accepted.
        accepted: String,
    },
    /// There is no such page or thing.
    #[error("there is no {what}")]
    NotFound {
        /// `order 12`.
        what: String,
    },
    /// The viewer may not do this.
    #[error("{problem}\n  accepted: {accepted}")]
    NotAllowed {
        /// What they may not.
        problem: String,
        /// Who may.
        accepted: String,
    },
    /// There is too much to do at this moment.
    #[error("{problem}\n  accepted: the same in a few seconds")]
    Busy {
        /// Of what.
        problem: String,
    },
    /// What was seen is not what stands by now.
    #[error("{problem}\n  accepted: {accepted}")]
    Changed {
        /// What has changed.
        problem: String,
        /// What would be accepted.
        accepted: String,
    },
    /// The book refuses or fails.
    #[error(transparent)]
    Book(#[from] BookError),
    /// A file of the shop holds faults.
    #[error("{0}")]
    Faults(placed::Faults),
    /// Something that is not the viewer's fault.
    #[error("{problem}")]
    Failed {
        /// What happened.
        problem: String,
    },
}

impl DeskError {
    /// A refusal with what would be accepted.
    pub(crate) fn refused(problem: impl Into<String>, accepted: impl Into<String>) -> Self {
        Self::Refused { problem: problem.into(), accepted: accepted.into() }
    }

    /// Nothing of that name.
    pub(crate) fn none(what: impl Into<String>) -> Self {
        Self::NotFound { what: what.into() }
    }

    /// A failure of the desk itself.
    pub(crate) fn failed(problem: impl Into<String>) -> Self {
        Self::Failed { problem: problem.into() }
    }

    /// The status of the answer.
    #[must_use]
    pub fn status(&self) -> StatusCode {
        match self {
            Self::Refused { .. } | Self::Faults(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::NotFound { .. } => StatusCode::NOT_FOUND,
            Self::Changed { .. } => StatusCode::CONFLICT,
            Self::NotAllowed { .. } => StatusCode::FORBIDDEN,
            Self::Failed { .. } => StatusCode::INTERNAL_SERVER_ERROR,
            Self::Busy { .. } => StatusCode::SERVICE_UNAVAILABLE,
            Self::Book(error) => match error {
                BookError::NotFound { .. } => StatusCode::NOT_FOUND,
                BookError::NotAllowed { .. } => StatusCode::FORBIDDEN,
                BookError::Overtaken { .. } | BookError::MovedOn { .. } => StatusCode::CONFLICT,
                BookError::Refused { .. } | BookError::Move { .. } | BookError::Sheet(_) => {
                    StatusCode::UNPROCESSABLE_ENTITY
                }
                BookError::Full { .. } => StatusCode::INSUFFICIENT_STORAGE,
                BookError::Locked { .. } | BookError::Unreachable { .. } | BookError::Gone { .. } => {
                    StatusCode::SERVICE_UNAVAILABLE
                }
                _ => StatusCode::INTERNAL_SERVER_ERROR,
            },
        }
    }

    /// What went wrong, and what would be accepted where there is something to say.
    #[must_use]
    pub fn parts(&self) -> (String, Option<String>) {
        let text = self.to_string();
        match text.split_once("\n  accepted: ") {
            Some((problem, accepted)) => (problem.to_owned(), Some(accepted.to_owned())),
            None => (text, None),
        }
    }
}

impl From<placed::Faults> for DeskError {
    fn from(faults: placed::Faults) -> Self {
        Self::Faults(faults)
    }
}
