//! Lists of orders, and the search as one types.

pub(crate) mod list;
mod middling;
pub(crate) mod query;
pub(crate) mod words;
