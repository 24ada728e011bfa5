//! Who looks at a page.

use std::convert::Infallible;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, FromRequestParts};
use axum::http::request::Parts;
use book::{Account, Person, Role};

/// How a request says whose it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Through {
    /// It does not.
    Nothing,
    /// The desk is open.
    OpenDoor,
    /// The cookie of a session.
    Session,
    /// The token of an integration.
    Token,
}

/// Who looks at a page. Every handler may ask for it; the guard of the routes has put it there.
#[derive(Debug, Clone)]
pub(crate) struct Viewer {
    /// Their account; none before they have signed in.
    pub account: Option<Account>,
    /// How they said so.
    pub through: Through,
    /// What every page tells at this moment, such as how far the demonstration is.
    pub notice: Option<Arc<str>>,
}

impl Viewer {
    /// Somebody who has not signed in.
    pub fn stranger() -> Self {
        Self { account: None, through: Through::Nothing, notice: None }
    }

    /// The person whose name is written beside what they do.
    pub fn person(&self) -> Person {
        self.account.as_ref().map_or_else(|| Person::guest("somebody"), Account::person)
    }

    /// The number of their account, which drafts and saved views belong to; 0 before they have signed in.
    pub fn number(&self) -> i64 {
        self.account.as_ref().map_or(0, |account| account.number)
    }

    /// Whether they have one of these roles.
    pub fn is_one_of(&self, roles: &[Role]) -> bool {
        self.account.as_ref().is_some_and(|account| roles.contains(&account.role))
    }

    /// Whether they may take orders in and change them.
    pub fn works_the_desk(&self) -> bool {
        self.is_one_of(&[Role::Owner, Role::Desk])
    }
}

impl<S: Sync> FromRequestParts<S> for Viewer {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, Infallible> {
        Ok(parts.extensions.get::<Self>().cloned().unwrap_or_else(Self::stranger))
    }
}

/// From which address a request comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Peer(pub IpAddr);

impl<S: Sync> FromRequestParts<S> for Peer {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, Infallible> {
        let known = parts.extensions.get::<ConnectInfo<SocketAddr>>();
        Ok(Self(known.map_or(IpAddr::V4(Ipv4Addr::UNSPECIFIED), |ConnectInfo(address)| address.ip().to_canonical())))
    }
}
