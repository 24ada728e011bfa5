//! Answers that are files.

use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderName};
use axum::response::{IntoResponse, Response};

use crate::shell::query_encoded;

/// What a browser is to do with a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Handing {
    /// Show it.
    Shown,
    /// Keep it.
    Kept,
}

/// The policy of a file that is shown: no script, nothing from elsewhere, and lettering and lines of its own.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; sandbox";

/// A file as an answer. `name` may hold any characters.
pub(crate) fn file(name: &str, media_type: &'static str, handing: Handing, bytes: Vec<u8>) -> Response {
    let word = if handing == Handing::Shown { "inline" } else { "attachment" };
    let disposition = format!("{word}; filename=\"{}\"; filename*=UTF-8''{}", plain(name), query_encoded(name));
    // A viewer of PDF is a page of the browser's own, which a sandbox would keep from running.
    let policy =
        if media_type == PDF { "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'" } else { POLICY };
    let headers: [(HeaderName, String); 3] = [
        (CONTENT_TYPE, media_type.to_owned()),
        (CONTENT_DISPOSITION, disposition),
        (CONTENT_SECURITY_POLICY, policy.to_owned()),
    ];
    (headers, bytes).into_response()
}

/// PDF, RFC 8118.
pub(crate) const PDF: &str = "application/pdf";
/// SVG, W3C.
pub(crate) const SVG: &str = "image/svg+xml";
/// DXF, registered with IANA.
pub(crate) const DXF: &str = "image/vnd.dxf";
/// STEP, registered with IANA for ISO 10303-21.
pub(crate) const STEP: &str = "model/step";
/// JSON, RFC 8259.
pub(crate) const JSON: &str = "application/json";

/// A reference as the beginning of a file's name.
pub(crate) fn stem(reference: &str) -> String {
    reference
        .chars()
        .map(|one| if one.is_alphanumeric() || matches!(one, '-' | '_' | '.') { one } else { '-' })
        .take(80)
        .collect()
}

/// The name in characters that every header may hold.
fn plain(name: &str) -> String {
    name.chars()
        .map(|one| if one.is_ascii_alphanumeric() || matches!(one, '-' | '_' | '.') { one } else { '-' })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Handing, PDF, file, stem};

    #[test]
    fn a_name_cannot_break_out_of_its_header() {
        let name = format!("{}-packet.pdf", stem("Q\"1\r\n/ü"));
        let answer = file(&name, PDF, Handing::Shown, Vec::new());
        let disposition = answer.headers()["content-disposition"].to_str().unwrap();
        assert_eq!(disposition, "inline; filename=\"Q-1-----packet.pdf\"; filename*=UTF-8''Q-1---%C3%BC-packet.pdf");
    }
}
