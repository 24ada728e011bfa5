//! Behind another server: for whom it asks.
//!
//! A server that speaks TLS to the browsers and passes their requests on is the only one that the desk sees. It writes the address
//! that it was asked from at the end of the header `X-Forwarded-For` (a convention of such servers; RFC 7239 calls it the precursor
//! of its `Forwarded`). Anybody can send such a header, so it is believed of servers that the desk was told of, and of nobody else;
//! and of its addresses only the last that is not such a server itself, since all before it come from the asker.

use std::net::{IpAddr, SocketAddr};
use std::str::FromStr;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderName};
use axum::middleware::Next;
use axum::response::Response;

use crate::desk::Desk;

const FORWARDED_FOR: HeaderName = HeaderName::from_static("x-forwarded-for");

/// Gives a request that was passed on the address that it was passed on for.
pub(crate) async fn see_through(State(desk): State<Desk>, mut request: Request, next: Next) -> Response {
    let peer = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|ConnectInfo(peer)| peer.ip());
    if let Some(asker) = peer.and_then(|peer| asker(peer, request.headers(), desk.behind())) {
        request.extensions_mut().insert(ConnectInfo(SocketAddr::new(asker, 0)));
    }
    next.run(request).await
}

/// For whom a server asks; none where it is not one of `servers`, or does not say.
fn asker(peer: IpAddr, headers: &HeaderMap, servers: &[IpAddr]) -> Option<IpAddr> {
    let is_server = |address: &IpAddr| servers.contains(address);
    if !is_server(&peer.to_canonical()) {
        return None;
    }
    // A line is looked at piece by piece: what the asker wrote into it may be no text at all, and what the server added still is.
    let lines = headers.get_all(FORWARDED_FOR).into_iter().rev();
    lines
        .flat_map(|line| line.as_bytes().rsplit(|byte| *byte == b','))
        .map(|piece| address(std::str::from_utf8(piece).ok()?.trim()))
        // What is no address hides all that stands before it.
        .map_while(|address| address)
        .find(|address| !is_server(address))
}

/// An address, with its port or without: `192.0.2.7`, `192.0.2.7:4711`, `2001:db8::7`, `[2001:db8::7]:4711`.
fn address(text: &str) -> Option<IpAddr> {
    let alone = text.strip_prefix('[').and_then(|text| text.strip_suffix(']')).unwrap_or(text);
    let with_port = || SocketAddr::from_str(text).map(|address| address.ip());
    IpAddr::from_str(alone).or_else(|_| with_port()).ok().map(|address| address.to_canonical())
}

#[cfg(test)]
mod tests {
    use axum::http::{HeaderMap, HeaderValue};

    use super::{FORWARDED_FOR, asker};

    fn seen_in(peer: &str, lines: &[&[u8]]) -> Option<String> {
        let mut headers = HeaderMap::new();
        for line in lines {
            headers.append(FORWARDED_FOR, HeaderValue::from_bytes(line).unwrap());
        }
        let servers = ["127.0.0.1".parse().unwrap(), "10.0.0.2".parse().unwrap()];
        asker(peer.parse().unwrap(), &headers, &servers).map(|address| address.to_string())
    }

    fn seen(peer: &str, lines: &[&str]) -> Option<String> {
        seen_in(peer, &lines.iter().map(|line| line.as_bytes()).collect::<Vec<_>>())
    }

    #[test]
    fn a_server_that_the_desk_knows_is_believed() {
        for (line, address) in [
            ("192.0.2.7", "192.0.2.7"),
            (" 192.0.2.7:4711", "192.0.2.7"),
            ("2001:db8::7", "2001:db8::7"),
            ("[2001:db8::7]:4711", "2001:db8::7"),
            ("::ffff:192.0.2.7", "192.0.2.7"),
        ] {
            assert_eq!(seen("127.0.0.1", &[line]).as_deref(), Some(address), "{line}");
            assert_eq!(seen("::ffff:127.0.0.1", &[line]).as_deref(), Some(address), "{line}");
        }
    }

    #[test]
    fn nobody_else_is_and_nobody_passes_for_another() {
        assert_eq!(seen("192.0.2.9", &["192.0.2.7"]), None, "not a server that the desk was told of");
        assert_eq!(seen("127.0.0.1", &[]), None);
        // What the asker has sent himself stands before what the server adds, in the same line or in one of its own.
        assert_eq!(seen("127.0.0.1", &["198.51.100.1, 192.0.2.7"]).as_deref(), Some("192.0.2.7"));
        assert_eq!(seen("127.0.0.1", &["198.51.100.1", "192.0.2.7"]).as_deref(), Some("192.0.2.7"));
        assert_eq!(
            seen("127.0.0.1", &["198.51.100.1, 192.0.2.7, 10.0.0.2"]).as_deref(),
            Some("192.0.2.7"),
            "two servers"
        );
        // Bytes that are no text hide nobody behind the server, and nobody behind an address of somebody else.
        assert_eq!(seen_in("127.0.0.1", &[b"\xff, 192.0.2.7"]).as_deref(), Some("192.0.2.7"));
        assert_eq!(seen_in("127.0.0.1", &[b"198.51.100.1", b"\xff, 192.0.2.7"]).as_deref(), Some("192.0.2.7"));
        assert_eq!(seen_in("127.0.0.1", &[b"198.51.100.1", b"\xff"]), None);
        for line in ["192.0.2.7, unknown", "192.0.2.7,", "192.0.2.7, 300.1.1.1", "_hidden"] {
            assert_eq!(seen("127.0.0.1", &[line]), None, "{line}");
        }
    }
}
