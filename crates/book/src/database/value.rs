//! A value that is handed to a statement.

use jiff::Timestamp;

/// A value for one placeholder. Nothing has a type as well, since PostgreSQL wants to know it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    /// A whole number; also a time, in microseconds.
    Integer(Option<i64>),
    /// A number.
    Real(Option<f64>),
    /// A text.
    Text(Option<String>),
    /// Bytes.
    Bytes(Option<Vec<u8>>),
}

impl From<i64> for Value {
    fn from(value: i64) -> Self {
        Self::Integer(Some(value))
    }
}

impl From<Option<i64>> for Value {
    fn from(value: Option<i64>) -> Self {
        Self::Integer(value)
    }
}

impl From<bool> for Value {
    fn from(value: bool) -> Self {
        Self::Integer(Some(i64::from(value)))
    }
}

impl From<Timestamp> for Value {
    fn from(value: Timestamp) -> Self {
        Self::Integer(Some(value.as_microsecond()))
    }
}

impl From<Option<Timestamp>> for Value {
    fn from(value: Option<Timestamp>) -> Self {
        Self::Integer(value.map(Timestamp::as_microsecond))
    }
}

impl From<Option<f64>> for Value {
    fn from(value: Option<f64>) -> Self {
        Self::Real(value)
    }
}

impl From<&str> for Value {
    fn from(value: &str) -> Self {
        Self::Text(Some(value.to_owned()))
    }
}

impl From<&String> for Value {
    fn from(value: &String) -> Self {
        Self::Text(Some(value.clone()))
    }
}

impl From<String> for Value {
    fn from(value: String) -> Self {
        Self::Text(Some(value))
    }
}

impl From<Option<String>> for Value {
    fn from(value: Option<String>) -> Self {
        Self::Text(value)
    }
}

impl From<Option<&str>> for Value {
    fn from(value: Option<&str>) -> Self {
        Self::Text(value.map(str::to_owned))
    }
}

impl From<Vec<u8>> for Value {
    fn from(value: Vec<u8>) -> Self {
        Self::Bytes(Some(value))
    }
}
