//! What is read from a request, and how refusals look: problem details of RFC 9457 that say what would be accepted.

use axum::body::Bytes;
use axum::extract::{FromRequest, FromRequestParts, Query, Request};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use book::BookError;
use schemars::JsonSchema;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::error::DeskError;

/// Problem details as RFC 9457 has them, with what would be accepted.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(crate) struct Problem {
    /// The words of the status.
    pub title: String,
    /// The status of the answer.
    pub status: u16,
    /// What is wrong.
    pub detail: String,
    /// What would be accepted; null where the detail says it.
    pub accepted: Option<String>,
    /// Every fault of a sheet, each with its line and column; empty where the problem is another.
    pub faults: Vec<wire::Fault>,
    /// Every field of a calculator that cannot be used; empty where the problem is another.
    pub fields: Vec<FieldFault>,
}

/// A field of a calculator that cannot be used.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(crate) struct FieldFault {
    /// The field; null where the fault is of several together.
    pub field: Option<String>,
    /// What was written; empty where it is missing.
    pub written: String,
    /// What is wrong with it.
    pub problem: String,
    /// What would be accepted; may be empty where the problem says it.
    pub accepted: String,
}

/// A refusal of the JSON interface.
#[derive(Debug)]
pub(crate) struct ApiError(Box<Problem>);

/// What an operation answers.
pub(crate) type Answer<T> = Result<axum::Json<T>, ApiError>;

impl ApiError {
    pub fn new(status: StatusCode, detail: impl Into<String>, accepted: impl Into<String>) -> Self {
        Self(Box::new(Problem {
            title: status.canonical_reason().unwrap_or_default().to_owned(),
            status: status.as_u16(),
            detail: detail.into(),
            accepted: Some(accepted.into()),
            faults: Vec::new(),
            fields: Vec::new(),
        }))
    }

    /// With the fields that are to blame.
    pub fn with_fields(mut self, fields: Vec<FieldFault>) -> Self {
        self.0.fields = fields;
        self
    }
}

impl From<DeskError> for ApiError {
    fn from(error: DeskError) -> Self {
        let (detail, accepted) = error.parts();
        let status = error.status();
        if status.is_server_error() {
            tracing::error!(status = status.as_u16(), problem = %error, "a request failed");
        }
        let faults = match &error {
            DeskError::Faults(faults) | DeskError::Book(BookError::Sheet(faults)) => {
                wire::UnreadSheet::with_faults("sheet", faults).faults
            }
            _ => Vec::new(),
        };
        let mut made = Self::new(status, detail, String::new());
        made.0.accepted = accepted;
        // Whoever was first stands in the first line, what to do about it in the next.
        if let Some((who_was_first, what_next)) =
            made.0.detail.split_once('\n').filter(|_| status == StatusCode::CONFLICT)
        {
            let (detail, accepted) = (who_was_first.to_owned(), what_next.trim().to_owned());
            made.0.detail = detail;
            made.0.accepted = Some(accepted);
        }
        if !faults.is_empty() {
            made.0.detail = format!("the sheet holds {}", counted(faults.len(), "fault"));
            made.0.accepted = Some("a sheet in which every place listed under `faults` is mended".to_owned());
            made.0.faults = faults;
        }
        made
    }
}

impl From<BookError> for ApiError {
    fn from(error: BookError) -> Self {
        DeskError::from(error).into()
    }
}

fn counted(count: usize, word: &str) -> String {
    if count == 1 { format!("one {word}") } else { format!("{count} {word}s") }
}

impl IntoResponse for ApiError {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.0.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let mut response = (status, axum::Json(self.0)).into_response();
        let kind = axum::http::HeaderValue::from_static("application/problem+json");
        response.headers_mut().insert(CONTENT_TYPE, kind);
        response
    }
}

/// A body in JSON.
pub(crate) struct Sent<T>(pub T);

impl<T: DeserializeOwned, S: Send + Sync> FromRequest<S> for Sent<T> {
    type Rejection = ApiError;

    async fn from_request(request: Request, state: &S) -> Result<Self, ApiError> {
        const ACCEPTED: &str = "a body in JSON with the header `Content-Type: application/json`";
        let kind = request.headers().get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or_default();
        let essence = kind.split(';').next().unwrap_or_default().trim();
        if !essence.eq_ignore_ascii_case("application/json") {
            let detail = format!("what was sent is called {essence:?}");
            return Err(ApiError::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, detail, ACCEPTED));
        }
        let bytes = Bytes::from_request(request, state).await.map_err(|rejection| {
            let status = rejection.status();
            let accepted = format!("a body of at most {} bytes", crate::security::LONGEST_FORM);
            ApiError::new(status, "the body could not be taken", accepted)
        })?;
        serde_json::from_slice(&bytes).map(Self).map_err(|error| {
            let status = if error.is_data() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::BAD_REQUEST };
            let accepted = "JSON in UTF-8 as /api/v1/openapi.json describes it for this operation";
            ApiError::new(status, format!("the body cannot be read: {error}"), accepted)
        })
    }
}

/// What stands behind the question mark of the address.
pub(crate) struct Asked<T>(pub T);

impl<T: DeserializeOwned, S: Sync> FromRequestParts<S> for Asked<T> {
    type Rejection = ApiError;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, ApiError> {
        Query::<T>::try_from_uri(&parts.uri).map(|Query(asked)| Self(asked)).map_err(|rejection| {
            let accepted = "the parameters that /api/v1/openapi.json names for this operation";
            ApiError::new(StatusCode::BAD_REQUEST, rejection.body_text(), accepted)
        })
    }
}

/// A number in the path.
pub(crate) fn number(what: &str, text: &str) -> Result<i64, ApiError> {
    text.parse().ok().filter(|number| *number > 0).ok_or_else(|| {
        let accepted = "a whole number from 1 on, as a list gives it";
        ApiError::new(StatusCode::NOT_FOUND, format!("there is no {what} {text:?}"), accepted)
    })
}
